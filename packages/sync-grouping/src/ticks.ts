import type { Ratio } from '@quayside/shoot';
import { type Rational, rational } from '@quayside/timecode';

/**
 * Ticks in one second. One frame of every rate of the timecode package, 1001 or not, and one sample at 32, 44.1, 48, 96
 * or 192 kHz, last a whole number of ticks, so that a day's positions are exact whole numbers below 2^53.
 */
export const TICKS_PER_SECOND = 705_600_000;

export const TICKS_PER_HOUR = 3600 * TICKS_PER_SECOND;

/** How long one unit (a frame, a sample) of a rate lasts. Whole for the rates that `TICKS_PER_SECOND` names. */
export function ticksPerUnit(rate: Ratio): number {
  return (TICKS_PER_SECOND * rate.denominator) / rate.numerator;
}

/** Where a unit begins, to the nearest tick; exact for the rates that `TICKS_PER_SECOND` names. */
export function ticksAtUnit(index: number, rate: Ratio): number {
  const perUnit = ticksPerUnit(rate);
  if (Number.isInteger(perUnit)) return index * perUnit;
  return divideToNearest(BigInt(index) * BigInt(TICKS_PER_SECOND) * BigInt(rate.denominator), BigInt(rate.numerator));
}

/** The first unit that begins at or after a position. */
export function firstUnitFrom(ticks: number, rate: Ratio): number {
  return 0 - lastUnitUpTo(-ticks, rate);
}

/** The last unit that begins at or before a position. */
export function lastUnitUpTo(ticks: number, rate: Ratio): number {
  const perUnit = ticksPerUnit(rate);
  if (Number.isInteger(perUnit)) return divideDown(ticks, perUnit);
  const [dividend, divisor] = [BigInt(ticks) * BigInt(rate.numerator), BigInt(TICKS_PER_SECOND * rate.denominator)];
  const remainder = ((dividend % divisor) + divisor) % divisor;
  return Number((dividend - remainder) / divisor);
}

/** The unit whose beginning lies nearest to a position. */
export function nearestUnit(ticks: number, rate: Ratio): number {
  const before = lastUnitUpTo(ticks, rate);
  return ticks - ticksAtUnit(before, rate) < ticksAtUnit(before + 1, rate) - ticks ? before : before + 1;
}

/** The position multiplied by a fraction, to the nearest tick. */
export function scaleTicks(ticks: number, factor: Rational): number {
  return divideToNearest(BigInt(ticks) * BigInt(factor.numerator), BigInt(factor.denominator));
}

export function secondsOfTicks(ticks: number): Rational {
  return rational(ticks, TICKS_PER_SECOND);
}

/** The whole division downwards, also of a negative dividend, without a fraction in between. */
export function divideDown(dividend: number, divisor: number): number {
  const remainder = dividend % divisor;
  return (dividend - (remainder < 0 ? remainder + divisor : remainder)) / divisor + 0;
}

function divideToNearest(dividend: bigint, divisor: bigint): number {
  const half = divisor / 2n;
  return Number((dividend + (dividend < 0n ? -half : half)) / divisor);
}

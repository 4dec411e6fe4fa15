import { multiplyExactly } from './exact-integers.ts';
import type { Rational } from './rational.ts';
import { type Counting, type Rate, RATES } from './rate.ts';
import { isRate, rateFrom } from './rate-from.ts';
import { refuseAsMalformed, refuseAsUnknown } from './rate-refusals.ts';
import { quoted, type TimecodeFault } from './timecode-fault.ts';

/**
 * How far a reading may lie from the rate it stands for, in parts per million. Neighbours such as 23.976 and 24 lie 999 ppm
 * apart, so a quarter of that cannot confuse them; the coarsest habit, 23.98 for 24000/1001, is off by 166.
 */
export const RATE_TOLERANCE_PPM = 250;

/** The rate that a reading stands for, or why it stands for none. */
export type NearestRate =
  | {
      readonly ok: true;
      readonly rate: Rate;
      /** False when the reading was rounded, as 29.97 is. */
      readonly isExact: boolean;
    }
  | { readonly ok: false; readonly fault: TimecodeFault };

/**
 * The rate that a parser's reading stands for: `29.97`, `"23.976"`, `"24000/1001"` or a fraction, within
 * RATE_TOLERANCE_PPM. Digits after the twelfth decimal are ignored.
 */
export function nearestRate(reading: string | number | Rational, counting: Counting = 'NDF'): NearestRate {
  const given = describe(reading);
  const fraction = typeof reading === 'object' ? reading : fractionFrom(String(reading));
  if (fraction === null || !isRate(fraction)) return refuseAsMalformed(given);
  const near = Object.values(RATES).find((rate) => isWithinTolerance(fraction, rate));
  if (near === undefined) return refuseAsUnknown(given);
  const found = rateFrom(near, counting);
  return found.ok ? { ...found, isExact: isSame(fraction, near) } : found;
}

function describe(reading: string | number | Rational): string {
  if (typeof reading === 'object') return `${reading.numerator}/${reading.denominator}`;
  return typeof reading === 'string' ? quoted(reading) : String(reading);
}

function fractionFrom(text: string): Rational | null {
  const fraction = /^([0-9]{1,15})\/([0-9]{1,15})$/.exec(text);
  if (fraction?.[1] !== undefined && fraction[2] !== undefined) {
    return { numerator: Number(fraction[1]), denominator: Number(fraction[2]) };
  }
  const decimal = /^([0-9]{1,3})(?:\.([0-9]{1,40}))?$/.exec(text);
  if (decimal?.[1] === undefined) return null;
  const places = (decimal[2] ?? '').slice(0, 12);
  return { numerator: Number(decimal[1] + places), denominator: 10 ** places.length };
}

function isWithinTolerance(fraction: Rational, rate: Rate): boolean {
  const given = BigInt(fraction.numerator) * BigInt(rate.denominator);
  const wanted = BigInt(rate.numerator) * BigInt(fraction.denominator);
  const distance = given < wanted ? wanted - given : given - wanted;
  return distance * 1_000_000n <= wanted * BigInt(RATE_TOLERANCE_PPM);
}

function isSame(fraction: Rational, rate: Rate): boolean {
  return (
    multiplyExactly(fraction.numerator, rate.denominator) === multiplyExactly(rate.numerator, fraction.denominator)
  );
}

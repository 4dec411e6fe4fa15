import { demandWhole, floorDivide, multiplyExactly, toSafeNumber } from './exact-integers.ts';
import { wrapCount } from './label.ts';
import type { Rate } from './rate.ts';
import { compareRationals, type Rational, rational, subtractRationals } from './rational.ts';

/** A count and what is left of the time after it: always at least zero and shorter than one frame. */
export interface CountInTime {
  readonly count: number;
  readonly remainderInSeconds: Rational;
}

/** Real seconds from count 0 to this count. Not reduced to a day: a count past midnight gives a time past midnight. */
export function secondsAt(count: number, rate: Rate): Rational {
  demandWhole(count, 'frame count');
  return rational(multiplyExactly(count, rate.denominator), rate.numerator);
}

/** The frame that is running at a real time since count 0, and how long it has been. Not reduced to a day. */
export function countAt(seconds: Rational, rate: Rate): CountInTime {
  const count = toSafeNumber(
    floorDivide(
      multiplyExactly(seconds.numerator, rate.numerator),
      multiplyExactly(seconds.denominator, rate.denominator),
    ),
  );
  return { count, remainderInSeconds: subtractRationals(seconds, secondsAt(count, rate)) };
}

/** The count of another rate that is running at the real time of this one, both counted from one shared zero. */
export function convertCount(count: number, from: Rate, to: Rate): CountInTime {
  return countAt(secondsAt(count, from), to);
}

/** A count at its rate: what one recorder's label said. */
export interface Moment {
  readonly count: number;
  readonly rate: Rate;
}

/**
 * Real seconds from one label to another the shorter way round midnight, for recorders that were set alike. Half a day
 * apart counts as earlier. A day of labels need not last 86400 s (86486.4 s at 29.97 NDF), so how long before midnight a
 * label stands is taken from its own rate.
 */
export function secondsBetween(from: Moment, to: Moment): Rational {
  const [start, end] = [sinceMidnight(from), sinceMidnight(to)];
  const candidates = [
    subtractRationals(end, start),
    subtractRationals(subtractRationals(end, secondsAt(to.rate.labelsPerDay, to.rate)), start),
    subtractRationals(end, subtractRationals(start, secondsAt(from.rate.labelsPerDay, from.rate))),
  ];
  return candidates.reduce((best, next) => (isShorter(next, best) ? next : best));
}

function sinceMidnight({ count, rate }: Moment): Rational {
  return secondsAt(wrapCount(count, rate), rate);
}

function isShorter(next: Rational, best: Rational): boolean {
  const order = compareRationals(sizeOf(next), sizeOf(best));
  return order < 0 || (order === 0 && next.numerator < best.numerator);
}

function sizeOf(value: Rational): Rational {
  return { numerator: Math.abs(value.numerator), denominator: value.denominator };
}

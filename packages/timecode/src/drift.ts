import { labelNumberAt, wrapCount } from './label.ts';
import type { Rate } from './rate.ts';
import { divideRationals, multiplyRationals, type Rational, rational, subtractRationals } from './rational.ts';
import { secondsAt } from './real-time.ts';

/** What the label at a count says, as seconds since midnight: 3600 for 01:00:00:00 at any rate. */
export function labelledSecondsAt(count: number, rate: Rate): Rational {
  return rational(labelNumberAt(wrapCount(count, rate), rate), rate.base);
}

/** How many labelled seconds pass in one real second, on the average of a day: 1000/1001 at 29.97 NDF, 1 at 25. */
export function labelSpeed(rate: Rate): Rational {
  return divideRationals(rational(86_400), secondsAt(rate.labelsPerDay, rate));
}

/** How far the labels have run ahead of the clock (negative: behind) after this much real time, in seconds. */
export function driftAfter(realSeconds: Rational, rate: Rate): Rational {
  return subtractRationals(multiplyRationals(realSeconds, labelSpeed(rate)), realSeconds);
}

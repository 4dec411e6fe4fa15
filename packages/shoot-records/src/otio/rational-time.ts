import type { Ratio } from '@quayside/shoot';
import { multiplyRationals, type Rational } from '@quayside/timecode';
import type { Otio } from './otio-json.ts';

/** A whole number of units at an exact rate. OTIO keeps both as doubles: the rate is the double nearest to the fraction. */
export function rationalTime(value: number, rate: Ratio): Otio {
  return { OTIO_SCHEMA: 'RationalTime.1', rate: rate.numerator / rate.denominator, value };
}

export function timeRange(range: { readonly start: number; readonly length: number }, rate: Ratio): Otio {
  return {
    OTIO_SCHEMA: 'TimeRange.1',
    duration: rationalTime(range.length, rate),
    start_time: rationalTime(range.start, rate),
  };
}

/** A whole number of units of some rate. */
export interface WholeTime {
  readonly value: number;
  readonly rate: Ratio;
}

/**
 * A time without any rounding: in whole units of the first rate that it is a whole number of, else in whole parts of a
 * second. Mixed rates need the latter: 1 frame of 25 lies between two frames of 24000/1001.
 */
export function wholeTime(seconds: Rational, rates: readonly Ratio[]): WholeTime {
  for (const rate of rates) {
    const { numerator, denominator } = multiplyRationals(seconds, rate);
    if (denominator === 1) return { value: numerator, rate };
  }
  return { value: seconds.numerator, rate: { numerator: seconds.denominator, denominator: 1 } };
}

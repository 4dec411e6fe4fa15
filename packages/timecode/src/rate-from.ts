import { compareRationals, type Rational } from './rational.ts';
import { type Counting, type Rate, RATES } from './rate.ts';
import { refuseAsMalformed, refuseAsUnknown } from './rate-refusals.ts';
import type { TimecodeFault } from './timecode-fault.ts';

/** A rate of the table, or why the fraction is none. */
export type RateReading =
  | { readonly ok: true; readonly rate: Rate }
  | { readonly ok: false; readonly fault: TimecodeFault };

/**
 * The rate that is exactly this fraction, in lowest terms or not, counted as told. Never rounds: 2997/100 is RATE_UNKNOWN
 * (`nearestRate` takes it). Drop frame at a rate that has none is RATE_HAS_NO_DROP_FRAME.
 */
export function rateFrom(fraction: Rational, counting: Counting = 'NDF'): RateReading {
  if (!isRate(fraction)) return refuseAsMalformed(`${fraction.numerator}/${fraction.denominator}`);
  const same = Object.values(RATES).filter((rate) => compareRationals(rate, fraction) === 0);
  const given = `${fraction.numerator}/${fraction.denominator}`;
  if (same.length === 0) return refuseAsUnknown(given);
  const rate = same.find((candidate) => candidate.drop > 0 === (counting === 'DF'));
  if (rate !== undefined) return { ok: true, rate };
  return {
    ok: false,
    fault: {
      code: 'RATE_HAS_NO_DROP_FRAME',
      sentence: `Drop-frame timecode is not defined at ${given} frames per second: read it as non-drop and check the recorder's setting.`,
    },
  };
}

/** Whether the fraction can be a rate at all: positive whole numbers below 2^53. */
export function isRate(fraction: Rational): boolean {
  return [fraction.numerator, fraction.denominator].every((part) => Number.isSafeInteger(part) && part > 0);
}

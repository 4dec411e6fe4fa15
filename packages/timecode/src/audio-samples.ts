import { demandAtLeast, demandWhole, floorDivide, multiplyExactly, toSafeNumber } from './exact-integers.ts';
import type { Rate } from './rate.ts';
import { type Rational, rational, subtractRationals } from './rational.ts';

/** A count and the samples after its first instant: at least zero and fewer than one frame holds. */
export interface CountInSamples {
  readonly count: number;
  readonly remainderInSamples: Rational;
}

/** The audio position of a count's first instant, in samples since count 0; 1601.6 for one frame of 29.97 at 48000 Hz. */
export function samplesAt(count: number, rate: Rate, sampleRate: number): Rational {
  demandWhole(count, 'frame count');
  demandAtLeast(sampleRate, 1, 'sample rate');
  return rational(multiplyExactly(multiplyExactly(count, rate.denominator), sampleRate), rate.numerator);
}

/** The frame that is running at a sample since count 0, and how far into it the sample lies. Not reduced to a day. */
export function countAtSample(sample: number, sampleRate: number, rate: Rate): CountInSamples {
  demandWhole(sample, 'sample position');
  demandAtLeast(sampleRate, 1, 'sample rate');
  const count = toSafeNumber(
    floorDivide(multiplyExactly(sample, rate.numerator), multiplyExactly(sampleRate, rate.denominator)),
  );
  return { count, remainderInSamples: subtractRationals(rational(sample), samplesAt(count, rate, sampleRate)) };
}

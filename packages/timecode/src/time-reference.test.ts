import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countAtSample, samplesAt } from './audio-samples.ts';
import { countAtLabel } from './parse-label.ts';
import { type RateName, RATES } from './rate.ts';
import { addRationals, compareRationals, rational } from './rational.ts';
import { joinTimeReference, labelOfTimeReference, timeReferenceOf } from './time-reference.ts';

const everyRate = fc.constantFrom(...Object.values(RATES));
const sampleRates = fc.constantFrom(32_000, 44_100, 47_952, 48_000, 48_048, 88_200, 96_000, 192_000);

describe('a time reference', () => {
  // The semantics are those of EBU Tech 3285 (first sample since midnight); the numbers are worked by arithmetic.
  it.each<readonly [number, RateName, string, number, number]>([
    [1_729_728_000, '23.976', '10:00:00:00', 0, 1],
    [1_728_000_000, '23.976', '09:59:24:00', 1728, 1],
    [1_727_998_272, '29.97 DF', '10:00:00;00', 0, 1],
    [1_728_000_000, '29.97 DF', '10:00:00;01', 632, 5],
    [1_728_000_960, '25', '10:00:00:00', 960, 1],
    [172_972_800, '23.976', '01:00:00:00', 0, 1],
  ])('of %i at 48 kHz and %s is %s and %i/%i samples', (...row) => {
    const [timeReference, name, label, numerator, denominator] = row;
    expect(labelOfTimeReference(timeReference, 48_000, RATES[name])).toEqual({
      label,
      count: countAtLabel(label, RATES[name]),
      remainderInSamples: { numerator, denominator },
    });
  });

  it('is what the label gives back, rounded down to a whole sample with the part kept', () => {
    expect(timeReferenceOf(864_000, RATES['23.976'], 48_000)).toEqual({
      timeReference: 1_729_728_000,
      remainderInSamples: rational(0),
    });
    expect(timeReferenceOf(1_078_920, RATES['29.97 DF'], 48_000).timeReference).toBe(1_727_998_272);
    expect(timeReferenceOf(1, RATES['29.97 DF'], 48_000)).toEqual({
      timeReference: 1601,
      remainderInSamples: rational(3, 5),
    });
  });

  it.each<readonly [number, number, number, number]>([
    // Halves as EBU Tech 3285 stores them, low first; rows of 10:00:00 to 24 h, worked by arithmetic. The first was also written by FFmpeg.
    [0, 1_728_000_000, 36_000, 48_000],
    [1, 3_653_832_704, 82_800, 96_000],
    [1, 3_999_432_704, 43_200, 192_000],
    [3, 3_703_706_112, 86_399, 192_000],
    [0, 4_147_200_000, 86_400, 48_000],
  ])('of halves %i and %i is %i s at %i Hz', (...row) => {
    const [high, low, seconds, sampleRate] = row;
    expect(joinTimeReference({ high, low })).toBe(seconds * sampleRate);
  });

  it('at the end of the day is the label of midnight, on a count past the day', () => {
    expect(labelOfTimeReference(4_147_200_000, 48_000, RATES['25'])).toEqual({
      label: '00:00:00:00',
      count: 2_160_000,
      remainderInSamples: rational(0),
    });
  });

  it('that cannot be one is refused', () => {
    expect(() => joinTimeReference({ high: 2 ** 32 - 1, low: 2 ** 32 - 1 })).toThrowError(
      expect.objectContaining({ code: 'NUMBER_TOO_LARGE' }),
    );
    expect(() => labelOfTimeReference(-1, 48_000, RATES['25'])).toThrowError(
      expect.objectContaining({ code: 'NUMBER_OUT_OF_RANGE' }),
    );
    for (const sampleRate of [0, -48_000, 47_952.05, Number.NaN]) {
      expect(() => labelOfTimeReference(0, sampleRate, RATES['25'])).toThrowError(
        expect.objectContaining({ retry: 'never' }),
      );
    }
  });
});

describe('frames and samples', () => {
  // Up to 2^38 samples: sixteen days at 192 kHz.
  it('lead back to each other exactly', () => {
    fc.assert(
      fc.property(everyRate, sampleRates, fc.nat(2 ** 38), (rate, sampleRate, sample) => {
        const { count, remainderInSamples } = countAtSample(sample, sampleRate, rate);
        expect(addRationals(samplesAt(count, rate, sampleRate), remainderInSamples)).toEqual(rational(sample));
        expect(remainderInSamples.numerator).toBeGreaterThanOrEqual(0);
        expect(compareRationals(remainderInSamples, samplesAt(1, rate, sampleRate))).toBe(-1);
      }),
      { numRuns: 2000 },
    );
  });

  it('of the classic 0.1 % error lie 36 s apart after ten hours', () => {
    const rate = RATES['23.976'];
    const right = labelOfTimeReference(1_729_728_000, 48_000, rate).count;
    const wrong = labelOfTimeReference(1_728_000_000, 48_000, rate).count;
    // 36 s of 23.976 are 863.1 frames; the wrong one is floored into its frame, so it lies 864 labels back.
    expect(right - wrong).toBe(864);
  });
});

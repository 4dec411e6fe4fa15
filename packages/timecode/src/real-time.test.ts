import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { differenceInFrames } from './frames.ts';
import { countAtLabel } from './parse-label.ts';
import { RATES } from './rate.ts';
import { addRationals, compareRationals, rational } from './rational.ts';
import { convertCount, countAt, secondsAt, secondsBetween } from './real-time.ts';

const everyRate = fc.constantFrom(...Object.values(RATES));
const anyCount = fc.integer({ min: -20_000_000, max: 20_000_000 });

describe('real time of a count', () => {
  it('is exact', () => {
    expect(secondsAt(30_000, RATES['29.97 DF'])).toEqual(rational(1001));
    expect(secondsAt(1, RATES['23.976'])).toEqual(rational(1001, 24_000));
    expect(secondsAt(-50, RATES['50'])).toEqual(rational(-1));
  });

  it('leads back to the count with nothing left', () => {
    fc.assert(
      fc.property(everyRate, anyCount, (rate, count) => {
        expect(countAt(secondsAt(count, rate), rate)).toEqual({ count, remainderInSeconds: rational(0) });
      }),
    );
  });

  it('falls into the frame that is running then, and the remainder makes it whole', () => {
    const time = fc.tuple(fc.integer({ min: -(10 ** 9), max: 10 ** 9 }), fc.integer({ min: 1, max: 192_000 }));
    fc.assert(
      fc.property(everyRate, time, (rate, [numerator, denominator]) => {
        const seconds = rational(numerator, denominator);
        const { count, remainderInSeconds } = countAt(seconds, rate);
        expect(addRationals(secondsAt(count, rate), remainderInSeconds)).toEqual(seconds);
        expect(remainderInSeconds.numerator).toBeGreaterThanOrEqual(0);
        expect(compareRationals(remainderInSeconds, secondsAt(1, rate))).toBe(-1);
      }),
      { numRuns: 2000 },
    );
  });

  it('does not slip at a frame boundary, where floating point does', () => {
    // In doubles 27 frames of 23.976 last 27 / (24000 / 1001) seconds, which times the rate is a little less than 27.
    const rate = RATES['23.976'];
    const asFloat = 24_000 / 1001;
    const counts = Array.from({ length: 200_000 }, (_, count) => count);
    expect(counts.filter((count) => countAt(secondsAt(count, rate), rate).count !== count)).toEqual([]);
    expect(counts.filter((count) => Math.floor((count / asFloat) * asFloat) !== count)).toContain(27);
  });
});

describe('conversion between rates', () => {
  it('goes through real time and keeps the rest', () => {
    expect(convertCount(107_892, RATES['29.97 DF'], RATES['59.94 DF'])).toEqual({
      count: 215_784,
      remainderInSeconds: rational(0),
    });
    expect(convertCount(25, RATES['25'], RATES['23.976'])).toEqual({
      count: 23,
      remainderInSeconds: rational(1000 * 24 - 23 * 1001, 24_000),
    });
  });

  it('to a rate with more frames and back is the same count', () => {
    fc.assert(
      fc.property(everyRate, everyRate, anyCount, (from, to, count) => {
        fc.pre(compareRationals(to, from) >= 0);
        const there = convertCount(count, from, to);
        // The frame that is running then began at or before it; its successor begins after it.
        expect(compareRationals(secondsAt(there.count, to), secondsAt(count, from))).toBeLessThanOrEqual(0);
        expect(compareRationals(secondsAt(there.count + 1, to), secondsAt(count, from))).toBe(1);
        const back = countAt(addRationals(secondsAt(there.count, to), there.remainderInSeconds), from);
        expect(back.count).toBe(count);
      }),
    );
  });
});

describe('the time between two labels', () => {
  it('is the difference in frames when both have one rate', () => {
    fc.assert(
      fc.property(everyRate, fc.nat(), fc.nat(), (rate, from, to) => {
        expect(secondsBetween({ count: from, rate }, { count: to, rate })).toEqual(
          secondsAt(differenceInFrames(from, to, rate), rate),
        );
      }),
    );
  });

  it('of exactly half a day counts as earlier', () => {
    const [midnight, noon] = [
      { count: 0, rate: RATES['25'] },
      { count: 1_080_000, rate: RATES['25'] },
    ];
    expect(secondsBetween(midnight, noon)).toEqual(rational(-43_200));
    expect(secondsBetween(noon, midnight)).toEqual(rational(-43_200));
  });

  it('of two rates is taken across midnight by each own day', () => {
    const before = { count: countAtLabel('23:59:59:12', RATES['23.976']), rate: RATES['23.976'] };
    const after = { count: countAtLabel('00:00:01:00', RATES['25']), rate: RATES['25'] };
    // Twelve frames of 23.976 are left before midnight, and one second of 25 has passed after it.
    expect(secondsBetween(before, after)).toEqual(rational(12 * 1001 + 24_000, 24_000));
    expect(secondsBetween(after, before)).toEqual(rational(-(12 * 1001 + 24_000), 24_000));
  });

  it('of two rates on equal labels is not zero', () => {
    const ntsc = { count: countAtLabel('10:00:00:00', RATES['23.976']), rate: RATES['23.976'] };
    const pal = { count: countAtLabel('10:00:00:00', RATES['25']), rate: RATES['25'] };
    expect(secondsBetween(pal, ntsc)).toEqual(rational(36));
  });
});

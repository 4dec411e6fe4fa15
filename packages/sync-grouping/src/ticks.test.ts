import { RATES } from '@quayside/timecode';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  firstUnitFrom,
  lastUnitUpTo,
  nearestUnit,
  scaleTicks,
  secondsOfTicks,
  ticksAtUnit,
  ticksPerUnit,
} from './ticks.ts';

const hertz = (numerator: number): { numerator: number; denominator: number } => ({ numerator, denominator: 1 });

describe('ticks', () => {
  it('hold every frame and every common sample a whole number of times', () => {
    for (const rate of [...Object.values(RATES), ...[32_000, 44_100, 48_000, 96_000, 192_000].map(hertz)]) {
      expect(Number.isInteger(ticksPerUnit(rate))).toBe(true);
    }
  });

  it('of a hundred days are exact', () => {
    expect(ticksAtUnit(100 * RATES['23.976'].labelsPerDay, RATES['23.976'])).toBeLessThan(Number.MAX_SAFE_INTEGER);
  });

  it('agree with the samples of a frame that the standards give', () => {
    // 48 kHz samples a frame: 2002 at 24000/1001, 1920 at 25, 1000 at 48 (from the rates of SMPTE ST 12-1).
    for (const [rate, samples] of [
      [RATES['23.976'], 2002],
      [RATES['25'], 1920],
      [RATES['48'], 1000],
    ] as const) {
      expect(ticksPerUnit(rate) / ticksPerUnit(hertz(48_000))).toBe(samples);
    }
    expect(secondsOfTicks(ticksAtUnit(864_000, RATES['23.976']))).toEqual({ numerator: 36_036, denominator: 1 });
  });

  it('find the unit before, the unit after and the nearest, also where units are no whole number of ticks', () => {
    const rates = fc.constantFrom(
      RATES['29.97 DF'],
      RATES['25'],
      hertz(48_000),
      hertz(47_952),
      hertz(48_048),
      hertz(22_050),
    );
    fc.assert(
      fc.property(fc.integer({ min: -10_000_000, max: 10_000_000 }), rates, (index, rate) => {
        const at = ticksAtUnit(index, rate);
        expect(Math.abs(lastUnitUpTo(at, rate) - index)).toBeLessThanOrEqual(
          Number.isInteger(ticksPerUnit(rate)) ? 0 : 1,
        );
        expect(nearestUnit(at, rate)).toBe(index);
        expect(firstUnitFrom(at + 2, rate)).toBe(index + 1);
        expect(lastUnitUpTo(at + 2, rate)).toBe(index);
      }),
    );
  });

  it('are scaled to the nearest', () => {
    expect(scaleTicks(1_728_000_000 * 14_700, { numerator: 1001, denominator: 1000 })).toBe(1_729_728_000 * 14_700);
    expect(scaleTicks(-3, { numerator: 1, denominator: 2 })).toBe(-2);
  });
});

import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addFrames, differenceInFrames } from './frames.ts';
import { countAtLabel } from './parse-label.ts';
import { RATES } from './rate.ts';

const everyRate = fc.constantFrom(...Object.values(RATES));

describe('the difference of two counts', () => {
  // Both worked by hand from the modulo rule for 24-hour rollover.
  it('crosses midnight the shorter way', () => {
    const [before, after] = [countAtLabel('23:59:50:00', RATES['25']), countAtLabel('00:00:05:00', RATES['25'])];
    expect(differenceInFrames(before, after, RATES['25'])).toBe(375);
    expect(differenceInFrames(after, before, RATES['25'])).toBe(-375);
    const last = countAtLabel('23:59:59;29', RATES['29.97 DF']);
    expect(differenceInFrames(last, 0, RATES['29.97 DF'])).toBe(1);
  });

  it('of exactly half a day counts as earlier', () => {
    expect(differenceInFrames(0, 1_080_000, RATES['25'])).toBe(-1_080_000);
    expect(differenceInFrames(0, 1_079_999, RATES['25'])).toBe(1_079_999);
  });

  it('leads from one to the other, is at most half a day, and is zero to itself', () => {
    fc.assert(
      fc.property(everyRate, fc.integer(), fc.integer(), (rate, from, to) => {
        const frames = differenceInFrames(from, to, rate);
        expect(addFrames(from, frames, rate)).toBe(addFrames(to, 0, rate));
        expect(Math.abs(frames)).toBeLessThanOrEqual(rate.labelsPerDay / 2);
        expect(differenceInFrames(from, from, rate)).toBe(0);
      }),
    );
  });
});

describe('adding frames', () => {
  it('starts again at midnight, and goes back before it', () => {
    expect(addFrames(2_589_407, 1, RATES['29.97 DF'])).toBe(0);
    expect(addFrames(0, -1, RATES['59.94 DF'])).toBe(5_178_815);
  });

  it('in two parts is adding once', () => {
    fc.assert(
      fc.property(everyRate, fc.nat(), fc.tuple(fc.integer(), fc.integer()), (rate, count, [first, second]) => {
        expect(addFrames(addFrames(count, first, rate), second, rate)).toBe(addFrames(count, first + second, rate));
      }),
    );
  });

  it('refuses parts of frames and sums beyond exact numbers', () => {
    expect(() => addFrames(0, 0.5, RATES['25'])).toThrowError(expect.objectContaining({ code: 'NUMBER_NOT_WHOLE' }));
    expect(() => addFrames(Number.MAX_SAFE_INTEGER, 1, RATES['25'])).toThrowError(
      expect.objectContaining({ code: 'NUMBER_TOO_LARGE' }),
    );
  });
});

import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { endOfRange, type FrameRange, intersectRanges, rangeContains, rangesOverlap, unionBounds } from './range.ts';
import { type Rate, RATES } from './rate.ts';

const PAL = RATES['25'];
const DAY = PAL.labelsPerDay;

/** A small day, so that whole ranges can be laid out label by label as the check. */
const TINY: Rate = { ...PAL, labelsPerDay: 12 };
const tinyRange = fc.record({ start: fc.integer({ min: -30, max: 30 }), length: fc.nat(15) });

function labelsOf(range: FrameRange): ReadonlySet<number> {
  const labels = Array.from({ length: range.length }, (_, index) => (((range.start + index) % 12) + 12) % 12);
  return new Set(labels);
}

describe('a range', () => {
  it('that crosses midnight ends on a smaller label than it starts on', () => {
    expect(endOfRange({ start: DAY - 250, length: 625 }, PAL)).toBe(375);
    expect(rangeContains({ start: DAY - 250, length: 625 }, 0, PAL)).toBe(true);
    expect(rangeContains({ start: DAY - 250, length: 625 }, 375, PAL)).toBe(false);
    expect(rangeContains({ start: DAY - 250, length: 625 }, DAY - 251, PAL)).toBe(false);
  });

  it('contains exactly its own labels', () => {
    fc.assert(
      fc.property(tinyRange, fc.integer({ min: -30, max: 30 }), (range, count) => {
        expect(rangeContains(range, count, TINY)).toBe(labelsOf(range).has(((count % 12) + 12) % 12));
      }),
    );
  });

  it('of a negative or broken length is refused', () => {
    expect(() => endOfRange({ start: 0, length: -1 }, PAL)).toThrowError(
      expect.objectContaining({ code: 'NUMBER_OUT_OF_RANGE' }),
    );
    expect(() => endOfRange({ start: 0, length: 1.5 }, PAL)).toThrowError(
      expect.objectContaining({ code: 'NUMBER_NOT_WHOLE' }),
    );
  });
});

describe('what two ranges share', () => {
  it('is found across midnight', () => {
    const [evening, night] = [
      { start: DAY - 100, length: 300 },
      { start: DAY - 50, length: 100 },
    ];
    expect(intersectRanges(evening, night, PAL)).toEqual([{ start: DAY - 50, length: 100 }]);
    expect(intersectRanges(evening, { start: 150, length: 100 }, PAL)).toEqual([{ start: 150, length: 50 }]);
    expect(intersectRanges(evening, { start: 200, length: 100 }, PAL)).toEqual([]);
  });

  it('is two pieces when they meet at both ends', () => {
    const [long, other] = [
      { start: 0, length: 10 },
      { start: 8, length: 6 },
    ];
    expect(intersectRanges(long, other, TINY)).toEqual([
      { start: 0, length: 2 },
      { start: 8, length: 2 },
    ]);
  });

  it('is exactly the labels in both, each once, whichever comes first', () => {
    fc.assert(
      fc.property(tinyRange, tinyRange, (left, right) => {
        const shared = intersectRanges(left, right, TINY);
        const labels = shared.flatMap((piece) => [...labelsOf(piece)]).toSorted((a, b) => a - b);
        const expected = [...labelsOf(left)].filter((label) => labelsOf(right).has(label)).toSorted((a, b) => a - b);
        expect(labels).toEqual(expected);
        expect(intersectRanges(right, left, TINY)).toEqual(shared);
        expect(rangesOverlap(left, right, TINY)).toBe(expected.length > 0);
        expect(shared.every((piece) => piece.start >= 0 && piece.start < 12)).toBe(true);
      }),
      { numRuns: 3000 },
    );
  });

  it('is one piece when one of them is a whole day', () => {
    expect(intersectRanges({ start: 1, length: 12 }, { start: 10, length: 6 }, TINY)).toEqual([
      { start: 10, length: 6 },
    ]);
    expect(intersectRanges({ start: 5, length: 99 }, { start: 3, length: 6 }, TINY)).toEqual([{ start: 3, length: 6 }]);
    expect(intersectRanges({ start: 1, length: 12 }, { start: 3, length: 6 }, TINY)).toEqual([{ start: 3, length: 6 }]);
  });
});

describe('the bounds of two ranges', () => {
  it('close the gap between them, also over midnight', () => {
    expect(unionBounds({ start: 100, length: 10 }, { start: 200, length: 10 }, PAL)).toEqual({
      start: 100,
      length: 110,
    });
    expect(unionBounds({ start: 10, length: 5 }, { start: DAY - 5, length: 3 }, PAL)).toEqual({
      start: DAY - 5,
      length: 20,
    });
  });

  it('start at the smaller count when both ways round are equally short', () => {
    expect(unionBounds({ start: 6, length: 2 }, { start: 0, length: 2 }, TINY)).toEqual({ start: 0, length: 8 });
  });

  it('are the shortest range that covers both, whichever comes first', () => {
    fc.assert(
      fc.property(tinyRange, tinyRange, (left, right) => {
        const bounds = unionBounds(left, right, TINY);
        const wanted = new Set([...labelsOf(left), ...labelsOf(right)]);
        expect(covers(bounds, wanted)).toBe(true);
        expect(unionBounds(right, left, TINY)).toEqual(bounds);
        expect(bounds.length).toBe(left.length + right.length === 0 ? 0 : shortestCover(wanted));
      }),
      { numRuns: 3000 },
    );
  });
});

function shortestCover(wanted: ReadonlySet<number>): number {
  for (let length = 0; length < 12; length += 1) {
    for (let start = 0; start < 12; start += 1) {
      if (covers({ start, length }, wanted)) return length;
    }
  }
  return 12;
}

function covers(range: FrameRange, wanted: ReadonlySet<number>): boolean {
  const labels = labelsOf(range);
  return [...wanted].every((label) => labels.has(label));
}

import fc from 'fast-check';
import { expect, it } from 'vitest';
import { shownPart } from './edits.ts';
import { paceOf } from './sample-times.ts';

it.each([
  ['stts 60 x 1001 at 30000', [{ count: 60, ticks: 1001 }], 30_000, { numerator: 30_000, denominator: 1001 }],
  ['25 at 600', [{ count: 50, ticks: 24 }], 600, { numerator: 25, denominator: 1 }],
  ['120000/1001', [{ count: 9, ticks: 1001 }], 120_000, { numerator: 120_000, denominator: 1001 }],
  ['a decimal clock: 100 at 2997', [{ count: 50, ticks: 100 }], 2997, { numerator: 30_000, denominator: 1001 }],
  ['a rate of its own', [{ count: 50, ticks: 1 }], 15, { numerator: 15, denominator: 1 }],
])('the rate of %s is exact', (...[, runs, timescale, rate]) => {
  expect(paceOf(runs, timescale)).toEqual({ rate, isVariable: false, gaps: null });
});

it('a clock too coarse for its rate is steady: 29.97 in milliseconds lasts 33, 33, 34', () => {
  const runs = Array.from({ length: 400 }, (_, index) => {
    const start = Math.round((index * 1001) / 30);
    return { count: 1, ticks: Math.round(((index + 1) * 1001) / 30) - start };
  });
  expect(paceOf(runs, 1000)).toEqual({
    rate: { numerator: 30_000, denominator: 1001 },
    isVariable: false,
    gaps: null,
  });
});

it('a picture that stays as long as four is a gap of three, and the rate stays exact', () => {
  const runs = [
    { count: 19, ticks: 1001 },
    { count: 1, ticks: 4004 },
    { count: 30, ticks: 1001 },
  ];
  expect(paceOf(runs, 24_000)).toEqual({
    rate: { numerator: 24_000, denominator: 1001 },
    isVariable: false,
    gaps: { count: 1, missingPictures: 3, firstAt: 19 },
  });
});

it('what the last picture lasts is not counted, and a single odd one makes no rate variable', () => {
  const last = [
    { count: 49, ticks: 512 },
    { count: 1, ticks: 2048 },
  ];
  expect(paceOf(last, 12_800).gaps).toBeNull();
  expect(paceOf([{ count: 1, ticks: 786 }, ...last], 12_800)).toMatchObject({ isVariable: false, gaps: null });
});

it('pictures of many lengths are variable, not gaps', () => {
  const runs = [400, 700, 512, 900, 300, 512].map((ticks) => ({ count: 1, ticks }));
  expect(paceOf(runs, 12_800)).toMatchObject({ isVariable: true, gaps: null });
});

it('finds every lost picture in a steady track, wherever it is lost', () => {
  const gap = fc.record({ at: fc.integer({ min: 0, max: 298 }), missing: fc.integer({ min: 1, max: 50 }) });
  const gapList = fc.uniqueArray(gap, { selector: ({ at }) => at, minLength: 1, maxLength: 20 });
  fc.assert(
    fc.property(gapList, fc.constantFrom(1, 40, 1001), (gaps, ticks) => {
      const runs = Array.from({ length: 300 }, (_, index) => ({
        count: 1,
        ticks: ticks * (1 + (gaps.find(({ at }) => at === index)?.missing ?? 0)),
      }));
      expect(paceOf(runs, 24 * ticks)).toEqual({
        rate: { numerator: 24, denominator: 1 },
        isVariable: false,
        gaps: {
          count: gaps.length,
          missingPictures: gaps.reduce((sum, { missing }) => sum + missing, 0),
          firstAt: Math.min(...gaps.map(({ at }) => at)),
        },
      });
    }),
  );
});

it('an edit list that shows everything changes nothing, though its lengths are rounded to the film’s clock', () => {
  // The published body 00000000 00000001 000007d2 00000000 00010000: one edit of 2002 film ticks from 0.
  const edits = [{ duration: 2002, mediaTime: 0 }];
  const media = { timescale: 30_000, filmTimescale: 1000, firstShift: 0 };
  expect(shownPart({ ...media, ticks: 60_060, edits })).toEqual({ headTicks: 0, ticks: 60_060 });
  expect(shownPart({ ...media, ticks: 60_075, edits })).toEqual({ headTicks: 0, ticks: 60_075 });
});

it('trims head and tail, but not what only puts reordered pictures in place', () => {
  const media = { timescale: 25, filmTimescale: 1000, ticks: 50 };
  const edits = [{ duration: 1000, mediaTime: 10 }];
  expect(shownPart({ ...media, firstShift: 0, edits })).toEqual({ headTicks: 10, ticks: 25 });
  expect(shownPart({ ...media, firstShift: 2, edits: [{ duration: 2000, mediaTime: 2 }] })).toEqual({
    headTicks: 0,
    ticks: 50,
  });
});

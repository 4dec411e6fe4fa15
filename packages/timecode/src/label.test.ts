import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countOfLabel, findLabelFault, labelOfCount } from './label.ts';
import { countAtLabel, parseLabel } from './parse-label.ts';
import { printLabel } from './print-label.ts';
import { type Rate, RATES, type RateName } from './rate.ts';

const everyRate = fc.constantFrom(...Object.values(RATES));

describe('a label and its count', () => {
  // P: OpenTimelineIO, tests/test_opentime.py. F: FFmpeg's tmcd writer. R: worked by the counting rule of SMPTE ST 12-1.
  const rows: readonly (readonly [RateName, string, number, string])[] = [
    ['29.97 DF', '00:00:59;29', 1799, 'R'],
    ['29.97 DF', '00:01:00;02', 1800, 'R'],
    ['29.97 DF', '00:01:59;29', 3597, 'R'],
    ['29.97 DF', '00:02:00;02', 3598, 'R'],
    ['29.97 DF', '00:05:59;29', 10_789, 'P'],
    ['29.97 DF', '00:06:00;02', 10_790, 'P'],
    ['29.97 NDF', '00:05:59:19', 10_789, 'P'],
    ['29.97 NDF', '00:05:59:20', 10_790, 'P'],
    ['29.97 DF', '00:09:59;29', 17_981, 'P'],
    ['29.97 DF', '00:10:00;00', 17_982, 'P'],
    ['29.97 NDF', '00:09:59:11', 17_981, 'P'],
    ['29.97 NDF', '00:09:59:12', 17_982, 'P'],
    ['29.97 DF', '00:10:00;02', 17_984, 'P'],
    ['29.97 NDF', '00:09:59:14', 17_984, 'P'],
    ['29.97 DF', '01:00:00;00', 107_892, 'F'],
    ['29.97 DF', '10:00:00;00', 1_078_920, 'F'],
    ['29.97 DF', '10:03:00;05', 1_084_319, 'P'],
    ['29.97 NDF', '10:02:23:29', 1_084_319, 'P'],
    ['59.94 DF', '05:01:30;03', 1_084_319, 'P'],
    ['29.97 DF', '23:59:59;29', 2_589_407, 'R'],
    ['29.97 DF', '09:16:06;22', 1_000_000, 'R'],
    ['59.94 DF', '00:00:59;59', 3599, 'R'],
    ['59.94 DF', '00:01:00;04', 3600, 'R'],
    ['59.94 DF', '00:09:59;59', 35_963, 'R'],
    ['59.94 DF', '00:10:00;00', 35_964, 'R'],
    ['59.94 DF', '01:00:00;00', 215_784, 'R'],
    ['59.94 DF', '10:00:00;00', 2_157_840, 'F'],
    ['59.94 DF', '04:38:03;24', 1_000_000, 'R'],
    ['59.94 DF', '23:59:59;59', 5_178_815, 'R'],
    ['23.976', '10:00:00:00', 864_000, 'R'],
    ['24', '10:00:00:00', 864_000, 'R'],
    ['23.976', '23:59:59:00', 2_073_576, 'F'],
    ['25', '10:00:00:00', 900_000, 'R'],
    ['50', '10:00:00:00', 1_800_000, 'R'],
    ['60', '10:00:00:00', 2_160_000, 'R'],
    ['100', '00:00:59:99', 5999, 'F'],
    ['119.88 DF', '00:01:00;008', 7200, 'R'],
    ['119.88 DF', '00:10:00;000', 71_928, 'R'],
  ];

  it.each(rows)('at %s are %s and %i (source %s)', (name, label, count) => {
    expect(countAtLabel(label, RATES[name])).toBe(count);
    expect(printLabel(count, RATES[name])).toBe(label);
  });

  it('wrap at midnight, both ways', () => {
    expect(printLabel(2_589_408, RATES['29.97 DF'])).toBe('00:00:00;00');
    expect(printLabel(-1, RATES['29.97 DF'])).toBe('23:59:59;29');
    expect(printLabel(3 * 5_178_816 + 1_000_000, RATES['59.94 DF'])).toBe('04:38:03;24');
    expect(printLabel(-0, RATES['25'])).toBe('00:00:00:00');
  });

  it('fit together at any whole number of frames', () => {
    fc.assert(
      fc.property(everyRate, fc.maxSafeInteger(), (rate, count) => {
        const label = labelOfCount(count, rate);
        expect(findLabelFault(label, rate)).toBeNull();
        expect((count - countOfLabel(label, rate)) % rate.labelsPerDay).toBeOneOf([0, -0]);
      }),
      { numRuns: 2000 },
    );
  });

  it('that is no whole number is refused', () => {
    for (const count of [0.5, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53]) {
      expect(() => printLabel(count, RATES['25'])).toThrowError(
        expect.objectContaining({ code: 'NUMBER_NOT_WHOLE', retry: 'never' }),
      );
    }
  });
});

/** Counts by stepping through hours, minutes, seconds and frames as a recorder does: no formula shared with the code. */
function* stepThroughDay(rate: Rate): Generator<readonly [number, number, number, number]> {
  for (let minute = 0; minute < 1440; minute += 1) {
    for (let second = 0; second < 60; second += 1) {
      const first = second === 0 && minute % 10 !== 0 ? rate.drop : 0;
      for (let frame = first; frame < rate.base; frame += 1) {
        yield [Math.floor(minute / 60), minute % 60, second, frame];
      }
    }
  }
}

/** Walks a whole day and gives the first disagreement, or what was agreed on. */
function walkDay(rate: Rate, textEvery: number): string {
  let count = 0;
  for (const [hours, minutes, seconds, frames] of stepThroughDay(rate)) {
    const label = labelOfCount(count, rate);
    const isSame =
      label.hours === hours && label.minutes === minutes && label.seconds === seconds && label.frames === frames;
    if (!isSame || countOfLabel(label, rate) !== count) return `count ${count} gave ${JSON.stringify(label)}`;
    if (count % textEvery === 0) {
      const read = parseLabel(printLabel(count, rate), rate);
      if (!read.ok || read.count !== count) return `count ${count} printed as ${printLabel(count, rate)}`;
    }
    count += 1;
  }
  return `${count} labels agree`;
}

describe('a whole day', () => {
  it('at 29.97 DF has exactly the labels that stepping gives, each at its count', () => {
    expect(walkDay(RATES['29.97 DF'], 5)).toBe('2589408 labels agree');
  });

  it.each(Object.keys(RATES) as RateName[])('at %s comes back from text at each minute and in between', (name) => {
    const rate = RATES[name];
    let checked = 0;
    for (let minute = 0; minute < 1440; minute += 1) {
      const start = minute * (60 * rate.base) - rate.drop * (minute - Math.floor(minute / 10));
      for (const count of [
        start - 1,
        start,
        start + 1,
        start + rate.drop,
        start + ((minute * 7919) % (58 * rate.base)),
      ]) {
        if (count < 0) continue;
        const read = parseLabel(printLabel(count, rate), rate);
        if (!read.ok || read.count !== count) throw new Error(`${count} is ${printLabel(count, rate)}`);
        checked += 1;
      }
    }
    expect(checked).toBe(5 * 1440 - 1);
  });

  it.each(Object.keys(RATES) as RateName[])('at %s sorts as text in the order of the counts', (name) => {
    fc.assert(
      fc.property(fc.nat(RATES[name].labelsPerDay - 1), fc.nat(RATES[name].labelsPerDay - 1), (left, right) => {
        expect(printLabel(left, RATES[name]) < printLabel(right, RATES[name])).toBe(left < right);
      }),
    );
  });
});

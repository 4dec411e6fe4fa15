import SmpteTimecode from 'smpte-timecode';
import { describe, expect, it } from 'vitest';
import { labelOfCount } from './label.ts';
import { parseLabel } from './parse-label.ts';
import { printLabel } from './print-label.ts';
import { type Rate, type RateName, RATES } from './rate.ts';

/** The independent npm library smpte-timecode 1.3.6 (MIT). It drops four labels at most, so 119.88 DF is beyond it. */
const known: readonly RateName[] = [
  '23.976',
  '24',
  '25',
  '29.97 NDF',
  '29.97 DF',
  '30',
  '47.952',
  '48',
  '50',
  '59.94 NDF',
  '59.94 DF',
  '60',
  '100',
  '119.88 NDF',
  '120',
];

const STEPS_PER_RATE = 6000;

/** Counts spread over the day by a step that is no divisor of a second, plus the day's ends. */
function* spreadOverDay(rate: Rate): Generator<number> {
  const step = Math.floor(rate.labelsPerDay / STEPS_PER_RATE) + 1;
  for (let count = 0; count < rate.labelsPerDay; count += step) yield count;
  yield rate.labelsPerDay - 1;
}

describe('smpte-timecode as second opinion', () => {
  it.each(known)('prints and counts as we do at %s', (name) => {
    const rate = RATES[name];
    const disagreements: string[] = [];
    let compared = 0;
    for (const count of spreadOverDay(rate)) {
      const label = printLabel(count, rate);
      const theirs = new SmpteTimecode(count, [rate.numerator, rate.denominator], rate.drop > 0);
      const theirLabel = [theirs.hours, theirs.minutes, theirs.seconds, theirs.frames].join(' ');
      const ourLabel = Object.values(labelOfCount(count, rate)).join(' ');
      const theirCount = new SmpteTimecode(label, [rate.numerator, rate.denominator], rate.drop > 0).frameCount;
      const isAgreed = theirLabel === ourLabel && theirCount === count;
      if (!isAgreed) disagreements.push(`${count}: ${ourLabel} / ${theirLabel} / ${theirCount}`);
      compared += 1;
    }
    expect(disagreements.slice(0, 9)).toEqual([]);
    expect(compared).toBeGreaterThan(5900);
  });

  it.each(['29.97 DF', '59.94 DF', '25'] as const)('refuses the labels that we refuse at %s', (name) => {
    const rate = RATES[name];
    const disagreements: string[] = [];
    for (let minute = 0; minute < 1440; minute += 1) {
      for (const frame of [0, 1, 2, 3, 4, 5, rate.base - 1, rate.base, rate.base + 1]) {
        const clock = `${pad(Math.floor(minute / 60))}:${pad(minute % 60)}:00`;
        const text = `${clock}${rate.drop > 0 ? ';' : ':'}${pad(frame)}`;
        if (parseLabel(text, rate).ok !== isTakenByThem(text, rate)) disagreements.push(text);
      }
    }
    expect(disagreements).toEqual([]);
  });
});

function isTakenByThem(text: string, rate: Rate): boolean {
  try {
    return Number.isInteger(new SmpteTimecode(text, [rate.numerator, rate.denominator], rate.drop > 0).frameCount);
  } catch {
    return false;
  }
}

function pad(value: number): string {
  return String(value).padStart(2, '0');
}

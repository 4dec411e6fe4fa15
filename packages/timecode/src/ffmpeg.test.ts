import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasFfmpeg, probeLabels, readMovies, writeLabelledPictures, writeMovies } from './ffmpeg.test-support.ts';
import { countAtLabel } from './parse-label.ts';
import { printLabel } from './print-label.ts';
import { type Rate, type RateName, RATES } from './rate.ts';

const isMissing = !hasFfmpeg();
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'quayside-timecode-'));
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The places of a day where counting goes wrong, and two anywhere. */
function tellingCounts(rate: Rate): readonly number[] {
  const minute = 60 * rate.base;
  const tenMinutes = 600 * rate.base - 9 * rate.drop;
  const day = rate.labelsPerDay;
  return [
    0,
    minute - 1,
    minute,
    tenMinutes - 1,
    tenMinutes,
    6 * tenMinutes,
    day - 1,
    (day * 5) % 7919,
    Math.floor(day / 3),
  ];
}

describe.skipIf(isMissing)('FFmpeg as second opinion (skipped when ffmpeg or ffprobe is not installed)', () => {
  it.each(Object.keys(RATES) as RateName[])(
    'stores our count in the tmcd sample and reads our label back at %s',
    (name) => {
      const rate = RATES[name];
      const movies = tellingCounts(rate).map((count) => ({
        count,
        label: printLabel(count, rate),
        path: join(folder, `${rate.base}-${rate.denominator}-${rate.drop}-${count}.mov`),
      }));
      writeMovies(rate, movies);
      const read = readMovies(movies);
      expect(read).toEqual(movies.map(({ count, label }) => ({ sample: count, label })));
      expect(read.map(({ label }) => countAtLabel(label, rate))).toEqual(read.map(({ sample }) => sample));
    },
  );

  // The rates that MPEG-2 has. Each run of 4000 pictures passes a telling place; the last one passes midnight.
  const inMpeg2: readonly RateName[] = [
    '23.976',
    '24',
    '25',
    '29.97 NDF',
    '29.97 DF',
    '30',
    '50',
    '59.94 NDF',
    '59.94 DF',
    '60',
  ];

  it.each(inMpeg2)('counts 12000 pictures on as we do at %s', (name) => {
    const rate = RATES[name];
    const tenMinutes = 600 * rate.base - 9 * rate.drop;
    const starts = [tenMinutes - 2000, 13 * 6 * tenMinutes + 50 * rate.base, rate.labelsPerDay - 2000];
    const streams = starts.map((start) => ({
      start,
      label: printLabel(start, rate),
      path: join(folder, `${rate.base}-${rate.denominator}-${rate.drop}-${start}.m2v`),
    }));
    writeLabelledPictures(rate, 4000, streams);
    for (const { start, path } of streams) {
      const labels = probeLabels(path);
      const first = countAtLabel(labels[0] ?? '', rate);
      expect([start, start + 1]).toContain(first);
      expect(labels.length).toBeGreaterThanOrEqual(3999);
      expect(labels).toEqual(labels.map((_, index) => printLabel(first + index, rate)));
    }
  });
});

describe('tmcd samples', () => {
  // Sample bytes as FFmpeg writes them (rows marked F), the others worked by the rule of SMPTE ST 12-1. The sample is a
  // frame number: Apple TN2310 and the QuickTime File Format's timecode media.
  it.each<readonly [string, RateName, string]>([
    ['0001a574', '29.97 DF', '01:00:00;00'], // F
    ['001fa3e8', '23.976', '23:59:59:00'], // F
    ['0020ed10', '59.94 DF', '10:00:00;00'], // F
    ['000dbba0', '25', '10:00:00:00'],
    ['0001a5e0', '30', '01:00:00:00'],
    ['002782df', '29.97 DF', '23:59:59;29'],
    ['004f19ff', '60', '23:59:59:59'],
  ])('%s at %s are %s', (bytes, name, label) => {
    expect(printLabel(Number.parseInt(bytes, 16), RATES[name])).toBe(label);
    expect(countAtLabel(label, RATES[name]).toString(16).padStart(8, '0')).toBe(bytes);
  });
});

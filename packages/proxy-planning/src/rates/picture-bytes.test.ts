import { expect, it } from 'vitest';
import { dnxhrFrame, proresFrame } from './picture-bytes.ts';
import { PRORES_PROFILES } from './prores-rates.ts';

const RATES = [24_000 / 1001, 25, 30_000 / 1001, 50, 60_000 / 1001];

/**
 * Target data rates in megabits a second at 23.976, 25, 29.97, 50 and 59.94, in the order of PRORES_PROFILES. Source: the
 * publisher's white paper on ProRes, April 2022, appendix "Target Data Rates", through a public transcription.
 */
const PUBLISHED: Readonly<Record<string, readonly (readonly number[])[]>> = {
  '1920x1080': [
    [36, 82, 117, 176, 264, 396],
    [38, 85, 122, 184, 275, 413],
    [45, 102, 147, 220, 330, 495],
    [76, 170, 245, 367, 551, 826],
    [91, 204, 293, 440, 660, 990],
  ],
  '3840x2160': [
    [145, 328, 471, 707, 1061, 1591],
    [151, 342, 492, 737, 1106, 1659],
    [182, 410, 589, 884, 1326, 1989],
    [303, 684, 983, 1475, 2212, 3318],
    [363, 821, 1178, 1768, 2652, 3977],
  ],
  '4096x2160': [
    [155, 350, 503, 755, 1130, 1697],
    [162, 365, 524, 787, 1179, 1769],
    [194, 437, 629, 944, 1415, 2123],
    [323, 730, 1048, 1573, 2359, 3546],
    [388, 875, 1257, 1884, 2827, 4251],
  ],
};

const cells = Object.entries(PUBLISHED).flatMap(([text, rows]) =>
  rows.flatMap((row, rate) => row.map((megabits, profile) => ({ text, rate, profile, megabits }))),
);

function megabitsOf({ text, rate, profile }: (typeof cells)[number]): number {
  const [width = 0, height = 0] = text.split('x').map(Number);
  const name = PRORES_PROFILES[profile] ?? 'prores-422';
  return (proresFrame(name, { width, height }).bytes * 8 * (RATES[rate] ?? 0)) / 1e6;
}

it('ProRes targets at 1920x1080 and 3840x2160 are those that the publisher prints, in every profile and at every rate', () => {
  const others = cells.filter(({ text }) => text !== '4096x2160');
  expect(others).toHaveLength(60);
  for (const cell of others)
    expect(Math.abs(megabitsOf(cell) - cell.megabits), JSON.stringify(cell)).toBeLessThanOrEqual(0.5);
});

it('ProRes targets at 4096x2160 are those that the publisher prints to 1 %, since its transcription is less sure there', () => {
  for (const cell of cells.filter(({ text }) => text === '4096x2160'))
    expect(Math.abs(megabitsOf(cell) / cell.megabits - 1), JSON.stringify(cell)).toBeLessThan(0.01);
});

it('a size that the table does not name is scaled by blocks from the nearest that it does', () => {
  const listed = proresFrame('prores-422-proxy', { width: 3840, height: 2160 });
  const scope = proresFrame('prores-422-proxy', { width: 3840, height: 1632 });
  expect([listed.isListed, scope.isListed]).toEqual([true, false]);
  expect(scope.bytes / listed.bytes).toBeCloseTo(102 / 135, 6);
});

it('DNxHR frames give the data rates that the publisher prints', () => {
  // MiB a second at 23.976, 25, 29.97, 50, 59.94. Source: the publisher's "DNxHR Codec Bandwidth Specifications".
  const published = [83.26, 86.82, 104.08, 173.63, 208.15];
  const { bytes } = dnxhrFrame('dnxhr-hqx', { width: 3840, height: 2160 });
  expect(RATES.map((rate) => Number(((bytes * rate) / 2 ** 20).toFixed(2)))).toEqual(published);
  expect((dnxhrFrame('dnxhr-lb', { width: 3840, height: 2160 }).bytes * 25) / 2 ** 20).toBeCloseTo(17.87, 2);
  expect((dnxhrFrame('dnxhr-hq', { width: 2048, height: 1080 }).bytes * (24_000 / 1001)) / 2 ** 20).toBeCloseTo(
    22.2,
    2,
  );
});

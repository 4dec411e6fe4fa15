import { expect, it } from 'vitest';
import { pictureOf, take } from '../../pottery-class.test-support.ts';
import { halfDay } from '../../shoots.test-support.ts';
import type { ShootPicture } from '../../shoot-picture.ts';
import { viewOf } from '../../shoot-view.ts';
import { layMap, type MapRow } from './lay-map.ts';
import { MAP } from './map-measures.ts';

function rowsOf(picture: ShootPicture): readonly MapRow[] {
  return layMap(viewOf(picture).groups);
}

function numbersOf(rows: readonly MapRow[]): readonly (readonly number[])[] {
  return rows.map((row) => row.panels.map((panel) => panel.placed.number));
}

it('a small shoot fills one row', () => {
  const rows = rowsOf(pictureOf([...take('10:00:00:00', 60), ...take('10:05:00:00', 120)]));
  expect(numbersOf(rows)).toEqual([[1, 2]]);
  const last = rows[0]?.panels.at(-1);
  expect((last?.x ?? 0) + (last?.width ?? 0)).toBeCloseTo(MAP.width - MAP.margin);
  // 4 minutes by the labels, less the 3 frames that the last follower stopped later.
  expect(last?.pauseSeconds).toBeCloseTo(240.24 - 3 * (1001 / 24_000));
});

it('a pause of half an hour and another day begin a new row', () => {
  const rows = rowsOf(
    pictureOf([...take('10:00:00:00', 60), ...take('10:35:00:00', 60), ...take('10:40:00:00', 60, { day: 1 })]),
  );
  expect(numbersOf(rows)).toEqual([[1], [2], [3]]);
  expect(rows.map((row) => row.day)).toEqual(['2026-11-25', '2026-11-25', '2026-11-26']);
  expect(rows[1]?.pauseSeconds).toBeGreaterThan(2000);
  expect(rows[2]?.pauseSeconds).toBeNull();
});

it('half a day has each group once, in order, wide enough for its heading and without overlapping', () => {
  const rows = rowsOf(halfDay());
  expect(numbersOf(rows).flat()).toEqual(Array.from({ length: 50 }, (_, at) => at + 1));
  for (const { panels } of rows) {
    let end: number = MAP.gutter - MAP.pauseWidth;
    for (const panel of panels) {
      expect(panel.x).toBeCloseTo(end + MAP.pauseWidth);
      expect(panel.width).toBeGreaterThanOrEqual(MAP.smallestPanel);
      end = panel.x + panel.width;
    }
    expect(end).toBeLessThanOrEqual(MAP.width);
  }
});

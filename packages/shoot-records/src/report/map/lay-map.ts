import { approximateForDisplay, subtractRationals } from '@quayside/timecode';
import type { PlacedGroup } from '../../axis/place-groups.ts';
import { MAP } from './map-measures.ts';

/** One group's part of a map row. Time runs evenly within it; between panels it is broken. */
export interface Panel {
  readonly placed: PlacedGroup;
  readonly x: number;
  readonly width: number;
  /** Seconds since the end of the group before it in the row; null for the first of a row. Negative when they overlap. */
  readonly pauseSeconds: number | null;
}

/** One row of the map: groups of one day without a long pause between them. */
export interface MapRow {
  readonly panels: readonly Panel[];
  readonly day: string;
  /** Seconds since the end of the row before it on the same day; null for the first of a day. */
  readonly pauseSeconds: number | null;
}

/** A pause from which on the map goes on in a new row. */
const LONG_PAUSE_SECONDS = 1800;
/** How wide a group of the usual length is before a row is stretched. */
const USUAL_WIDTH = 132;
/** A row that few groups are left for is not drawn out over the whole width. */
const MOST_STRETCH = 2.2;
const ROOM = MAP.width - MAP.gutter - MAP.margin;

interface Drafted {
  readonly placed: PlacedGroup;
  readonly pauseSeconds: number | null;
  readonly width: number;
}

/** The map as rows of panels, a panel as wide as its group is long as far as its heading fits and the row has room. */
export function layMap(groups: readonly PlacedGroup[]): readonly MapRow[] {
  const lengths = groups.map(lengthOf).toSorted((left, right) => left - right);
  const usual = lengths[lengths.length >> 1] ?? 1;
  const rows: Drafted[][] = [];
  let room = 0;
  groups.forEach((placed, at) => {
    const before = groups[at - 1];
    const pauseSeconds = before === undefined ? null : pauseBetween(before, placed);
    const width = Math.min(ROOM, Math.max(MAP.smallestPanel, (USUAL_WIDTH * lengthOf(placed)) / usual));
    const isNewRow =
      before === undefined ||
      before.group.day.date !== placed.group.day.date ||
      (pauseSeconds ?? 0) >= LONG_PAUSE_SECONDS ||
      room < width + MAP.pauseWidth;
    if (isNewRow) rows.push([{ placed, pauseSeconds, width }]);
    else rows.at(-1)?.push({ placed, pauseSeconds, width });
    room = (isNewRow ? ROOM : room - MAP.pauseWidth) - width;
  });
  return rows.map((row, at) => finishRow(row, { before: rows[at - 1], isOnly: rows.length === 1 }));
}

function finishRow(
  row: readonly Drafted[],
  { before, isOnly }: { readonly before: readonly Drafted[] | undefined; readonly isOnly: boolean },
): MapRow {
  const free = ROOM - (row.length - 1) * MAP.pauseWidth;
  const stretch = free / row.reduce((sum, { width }) => sum + width, 0);
  const factor = Math.max(1, isOnly ? stretch : Math.min(MOST_STRETCH, stretch));
  let x: number = MAP.gutter;
  const panels = row.map(({ placed, pauseSeconds, width }, at) => {
    const panel = { placed, x, width: width * factor, pauseSeconds: at === 0 ? null : pauseSeconds };
    x += panel.width + MAP.pauseWidth;
    return panel;
  });
  const day = row[0]?.placed.group.day.date ?? '';
  const isSameDay = before?.[0]?.placed.group.day.date === day;
  return { panels, day, pauseSeconds: isSameDay ? (row[0]?.pauseSeconds ?? null) : null };
}

function lengthOf({ start, end }: PlacedGroup): number {
  return approximateForDisplay(subtractRationals(end, start));
}

function pauseBetween(before: PlacedGroup, after: PlacedGroup): number {
  return approximateForDisplay(subtractRationals(after.start, before.end));
}

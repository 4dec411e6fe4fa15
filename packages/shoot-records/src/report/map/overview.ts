import type { Severity } from '@quayside/shoot';
import { approximateForDisplay, secondsAt, subtractRationals } from '@quayside/timecode';
import { rateOfGroup } from '../../axis/group-rate.ts';
import type { PlacedGroup } from '../../axis/place-groups.ts';
import type { ShootView } from '../../shoot-view.ts';
import { html, type Html } from '../html.ts';
import { counted } from '../words.ts';
import { axisTicks } from './axis-ticks.ts';
import { MAP } from './map-measures.ts';
import { mapFigure } from './map-figure.ts';
import { drawShape } from './mark.ts';

const TRACK_TOP = 22;
const TRACK_HEIGHT = 24;
const LINE_HEIGHT = 76;
const EDGE = 4;
const SEVERITIES: readonly Severity[] = ['critical', 'warning', 'info'];

interface Day {
  readonly date: string;
  readonly groups: readonly PlacedGroup[];
  /** From its first group's start to its last end, in seconds of the shoot's axis. */
  readonly from: number;
  readonly to: number;
}

/** All groups of the shoot at one scale, a line for each day: where the time went. Each group is drawn again below. */
export function drawOverview(view: ShootView): Html {
  const days = [...Map.groupBy(view.groups, (placed) => placed.group.day.date)].map(([date, groups]): Day => {
    const starts = groups.map(({ start }) => approximateForDisplay(start));
    const ends = groups.map(({ end }) => approximateForDisplay(end));
    return { date, groups, from: Math.min(...starts), to: Math.max(...ends) };
  });
  const longest = Math.max(1, ...days.map(({ from, to }) => to - from));
  return mapFigure(
    {
      id: 'overview',
      caption: 'The whole shoot at one scale',
      aside: 'details follow',
      title: 'Overview of the shoot at one scale',
      description: days.map(describeDay).join(' '),
      height: LINE_HEIGHT * days.length,
    },
    days.map((day, at) => html`<g transform="translate(0 ${at * LINE_HEIGHT})">${drawDay(day, longest, view)}</g>`),
  );
}

function describeDay({ date, groups }: Day): string {
  const [first, last] = [groups[0], groups.at(-1)].map((placed) => placed?.group.start.timecode ?? '');
  return `${date}: ${counted(groups.length, 'group')}, the first from ${first}, the last from ${last}.`;
}

function drawDay(day: Day, longest: number, view: ShootView): Html {
  const perSecond = (MAP.width - MAP.gutter - EDGE) / longest;
  const blocks = day.groups.map((placed) => {
    const x = MAP.gutter + (approximateForDisplay(placed.start) - day.from) * perSecond;
    const width = approximateForDisplay(subtractRationals(placed.end, placed.start)) * perSecond;
    return drawBlock(placed, { x, width: Math.max(2, width) }, view);
  });
  const y = TRACK_TOP + TRACK_HEIGHT;
  return html`
    <text class="recorder" x="2" y="${TRACK_TOP + 17}">${day.date}</text>
    <path class="axis" d="M${MAP.gutter} ${y}h${(day.to - day.from) * perSecond}" />
    ${drawHours(day, longest)} ${blocks}
  `;
}

/** A group as a block: filled when it can be edited, else hollow; the gravest of the findings marked in it above. */
function drawBlock(
  { group, number }: PlacedGroup,
  { x, width }: { readonly x: number; readonly width: number },
  view: ShootView,
): Html {
  const found = view.findings.markedIn(group.id).map((finding) => finding.severity);
  const gravest = SEVERITIES.find((severity) => found.includes(severity));
  const text = String(number);
  const label =
    width >= 6.5 * text.length + 3
      ? html`<text class="block-number" x="${x + width / 2}" y="${TRACK_TOP + 16}">${text}</text>`
      : null;
  const mark =
    gravest === undefined
      ? null
      : html`<g class="mark ${gravest}">${drawShape(gravest, { x: x + width / 2, y: TRACK_TOP - 9 })}</g>`;
  return html`
    <rect class="block ${group.edit.state}" x="${x}" y="${TRACK_TOP}" width="${width}" height="${TRACK_HEIGHT}" />
    ${label} ${mark}
  `;
}

/** Ticks as close as the longest day has them; a day that is too short for any has the label of its start. */
function drawHours({ groups, from, to }: Day, longest: number): readonly Html[] {
  const [first] = groups;
  if (first === undefined) return [];
  const rate = rateOfGroup(first.group.rate);
  const perFrame = approximateForDisplay(secondsAt(1, rate));
  const lengthInFrames = Math.max(1, Math.round((to - from) / perFrame));
  const stretch = { count: first.group.start.count, lengthInFrames, rate };
  const ticks = axisTicks(stretch, (MOST_TICKS * (to - from)) / longest);
  const room = ((MAP.width - MAP.gutter - EDGE) * (to - from)) / longest;
  const shown = ticks.length > 0 ? ticks : [{ share: 0, label: first.group.start.timecode.slice(0, 8) }];
  const y = TRACK_TOP + TRACK_HEIGHT;
  return shown.map(({ share, label }) => {
    const x = MAP.gutter + share * room;
    return html`
      <path class="tick" d="M${x} ${y}v6" />
      <text class="time" text-anchor="middle" x="${Math.min(x, MAP.width - 30)}" y="${y + 18}">${label}</text>
    `;
  });
}

const MOST_TICKS = 11;

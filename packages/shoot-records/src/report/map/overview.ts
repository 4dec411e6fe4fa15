import type { Severity } from '@quayside/shoot';
import { approximateForDisplay, secondsAt, wrapCount } from '@quayside/timecode';
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

/** All groups of the shoot at one scale, a line for each day: where the day went. Each group is drawn again below. */
export function drawOverview(view: ShootView): Html {
  const days = [...Map.groupBy(view.groups, (placed) => placed.group.day.date)];
  return mapFigure(
    {
      id: 'overview',
      caption: 'The whole shoot at one scale',
      aside: 'details follow',
      title: 'Overview of the shoot at one scale',
      description: days.map(([day, groups]) => describeDay(day, groups)).join(' '),
      height: LINE_HEIGHT * days.length,
    },
    days.map(
      ([day, groups], at) => html`<g transform="translate(0 ${at * LINE_HEIGHT})">${drawDay(day, groups, view)}</g>`,
    ),
  );
}

function describeDay(day: string, groups: readonly PlacedGroup[]): string {
  return `${day}: ${counted(groups.length, 'group')}, the first from ${groups[0]?.group.start.timecode ?? ''}, the last from ${groups.at(-1)?.group.start.timecode ?? ''}.`;
}

function drawDay(day: string, groups: readonly PlacedGroup[], view: ShootView): Html {
  const starts = groups.map(({ start }) => approximateForDisplay(start));
  const ends = groups.map(({ end }) => approximateForDisplay(end));
  const [from, to] = [Math.min(...starts), Math.max(...ends)];
  const perSecond = (MAP.width - MAP.gutter - EDGE) / Math.max(1, to - from);
  const at = (seconds: number): number => MAP.gutter + (seconds - from) * perSecond;
  const blocks = groups.map((placed, index) => {
    const [x, end] = [at(starts[index] ?? from), at(ends[index] ?? to)];
    return drawBlock(placed, { x, width: Math.max(2, end - x) }, view);
  });
  const y = TRACK_TOP + TRACK_HEIGHT;
  return html`
    <text class="recorder" x="2" y="${TRACK_TOP + 17}">${day}</text>
    <path class="axis" d="M${MAP.gutter} ${y}H${MAP.width - EDGE}" />
    ${drawHours(groups, { from, to, at })} ${blocks}
  `;
}

/** A group as a block: filled when it can be edited, else hollow; the gravest of its findings above it. */
function drawBlock(
  { group, number }: PlacedGroup,
  { x, width }: { readonly x: number; readonly width: number },
  view: ShootView,
): Html {
  const found = view.findings.ofGroup(group.id).map((finding) => finding.severity);
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

function drawHours(
  groups: readonly PlacedGroup[],
  { from, to, at }: { readonly from: number; readonly to: number; readonly at: (seconds: number) => number },
): readonly Html[] {
  const [first] = groups;
  if (first === undefined) return [];
  const rate = rateOfGroup(first.group.rate);
  const perFrame = approximateForDisplay(secondsAt(1, rate));
  const lengthInFrames = Math.max(1, Math.round((to - from) / perFrame));
  const ticks = axisTicks({ count: wrapCount(first.group.start.count, rate), lengthInFrames, rate }, 11);
  const y = TRACK_TOP + TRACK_HEIGHT;
  return ticks.map(({ share, label }) => {
    const x = at(from + share * lengthInFrames * perFrame);
    return html`
      <path class="tick" d="M${x} ${y}v6" />
      <text class="time" text-anchor="middle" x="${Math.min(x, MAP.width - 22)}" y="${y + 18}">${label}</text>
    `;
  });
}

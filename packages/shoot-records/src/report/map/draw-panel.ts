import { rateOfGroup } from '../../axis/group-rate.ts';
import type { FindingsAt } from '../../findings-at.ts';
import { html, type Html } from '../html.ts';
import { axisTicks } from './axis-ticks.ts';
import type { Panel } from './lay-map.ts';
import { MAP } from './map-measures.ts';
import { drawMarks } from './mark.ts';

/** How far apart the labels of the axis are at least. */
const TICK_DISTANCE = 82;
const HALF_LABEL = 25;

/** A group's band with its heading above and its timecode axis below; `height` is that of the lanes. */
export function drawPanel(panel: Panel, height: number, findings: FindingsAt): Html {
  const { x, width, placed } = panel;
  const { group, number } = placed;
  const top = MAP.headerHeight;
  const { marks } = drawMarks(findings.ofWholeGroup(group.id), {
    x: x + width - 3,
    y: 28,
    width: width - 80,
    side: 'right',
  });
  return html`
    <rect class="band" x="${x}" y="1" width="${width}" height="${top + height - 1}" />
    <text class="heading" x="${x + 5}" y="16">Group ${number}</text>
    ${drawState(group.edit.state, x + width - 5)}
    <text class="start" x="${x + 5}" y="32">${group.start.timecode}</text>
    ${marks} ${drawPause(panel, top + height)} ${drawAxis(panel, top + height)}
  `;
}

/** Whether the group can be edited: a tick and `ready`, or an empty ring and `wait`. */
function drawState(state: 'editable' | 'waiting', right: number): Html {
  const shape =
    state === 'editable'
      ? html`<path class="state" d="M${right - 45} 11.5l3 3.5l5 -7" />`
      : html`<circle class="state" cx="${right - 34}" cy="11.5" r="4" />`;
  return html`${shape}<text class="state-word" x="${right}" y="15.5">${state === 'editable' ? 'ready' : 'wait'}</text>`;
}

function drawAxis({ x, width, placed: { group } }: Panel, y: number): Html {
  const { start, lengthInFrames, rate } = group;
  const ticks = axisTicks(
    { count: start.count, lengthInFrames: Math.max(1, lengthInFrames), rate: rateOfGroup(rate) },
    Math.max(1, Math.floor(width / TICK_DISTANCE)),
  );
  const drawn = ticks.map(({ share, label }) => {
    const at = x + share * width;
    const [anchor, from] =
      at - HALF_LABEL < x ? ['start', x] : at + HALF_LABEL > x + width ? ['end', x + width] : ['middle', at];
    return html`
      <path class="grid" d="M${at} ${MAP.headerHeight}V${y}" />
      <path class="tick" d="M${at} ${y}v5" />
      <text class="time" text-anchor="${anchor}" x="${from}" y="${y + 17}">${label}</text>
    `;
  });
  return html`<path class="axis" d="M${x} ${y}h${width}" />${drawn}`;
}

/** The break of the axis before a panel, and how long nothing ran. */
function drawPause({ x, pauseSeconds }: Panel, y: number): Html | null {
  if (pauseSeconds === null) return null;
  const middle = x - MAP.pauseWidth / 2;
  const [value, unit] = shortPause(pauseSeconds);
  return html`
    <path class="break" d="M${middle - 5} ${y + 5}l4 -10M${middle + 1} ${y + 5}l4 -10" />
    <text class="pause" x="${middle}" y="${y - 22}">${value}</text>
    <text class="pause" x="${middle}" y="${y - 11}">${unit}</text>
  `;
}

function shortPause(seconds: number): readonly [string, string] {
  if (seconds < 0.05) return ['no', 'pause'];
  if (seconds < 99.5)
    return [seconds < 9.95 ? String(Math.round(seconds * 10) / 10) : String(Math.round(seconds)), 's'];
  if (seconds < 5970) return [String(Math.round(seconds / 60)), 'min'];
  return [String(Math.round(seconds / 360) / 10), 'h'];
}

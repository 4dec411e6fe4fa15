import type { GroupMember } from '@quayside/sync-grouping';
import { approximateForDisplay } from '@quayside/timecode';
import { fileNameOf } from '../../file-name.ts';
import type { NumberedFinding } from '../../findings-at.ts';
import { layTracks } from '../../otio/lay-tracks.ts';
import type { Recorder } from '../../recorders.ts';
import type { ShootView } from '../../shoot-view.ts';
import { html, type Html } from '../html.ts';
import { shortenMiddle, showText } from '../show-text.ts';
import { CHARACTER_WIDTH, MAP } from './map-measures.ts';
import { drawMarks, markWidth } from './mark.ts';
import type { Panel } from './lay-map.ts';

/** What a recorder has in one group: its clips one above the other where they overlap, and the findings about them. */
export interface Cell {
  readonly rows: ReturnType<typeof layTracks>;
  readonly findings: readonly NumberedFinding[];
}

/** Findings that tell of the beginning of a clip stand before it, all others after it. */
const AT_THE_START = new Set(['CLIP_STARTS_LATE', 'TIMECODE_FROM_ZERO']);
const LABEL_SIZE = 11;

export function cellOf({ placed: { group } }: Panel, recorder: Recorder, view: ShootView): Cell {
  const own = group.members.filter((member) => member.recorder === recorder.name);
  return {
    rows: layTracks(own.map((member) => ({ member, start: member.offset }))),
    findings: view.findings.ofCell(group.id, recorder.name),
  };
}

/** Draws a cell into its lane, whose top is `y`. */
export function drawCell(cell: Cell, place: { readonly panel: Panel; readonly y: number }, view: ShootView): Html {
  const { panel, y } = place;
  const middle = y + MAP.laneHeight / 2;
  const begins = panel.x + Math.min(...cell.rows.map(([laid]) => offsetOf(laid, panel)), panel.width / 2);
  // Before the clip where there is room, else behind its beginning, so that the beginning can be seen.
  const x = begins - panel.x > 2 * markWidth('1') ? panel.x + 3 : begins + 4;
  const first = drawMarks(
    cell.findings.filter((finding) => AT_THE_START.has(finding.code)),
    { x, y: middle, width: panel.width / 2, side: 'left' },
  );
  const last = drawMarks(
    cell.findings.filter((finding) => !AT_THE_START.has(finding.code)),
    { x: panel.x + panel.width - 3, y: middle, width: panel.width - first.width - 30, side: 'right' },
  );
  const free = { from: first.width === 0 ? panel.x : x + first.width, to: panel.x + panel.width - last.width - 3 };
  const bars = cell.rows.flatMap((row, at) =>
    row.map(({ member }) => drawBar(member, { panel, y: y + at * MAP.laneHeight, free: at === 0 ? free : null }, view)),
  );
  const isMissed = cell.rows.length === 0 && cell.findings.length > 0;
  return html`${isMissed ? drawNothing(place, free) : null}${bars}${first.marks}${last.marks}`;
}

function offsetOf(laid: Cell['rows'][number][number] | undefined, panel: Panel): number {
  return laid === undefined ? 0 : approximateForDisplay(laid.member.offset) * perSecondOf(panel);
}

function perSecondOf({ width, placed: { group } }: Panel): number {
  return (width * group.rate.numerator) / (Math.max(1, group.lengthInFrames) * group.rate.denominator);
}

function drawNothing(
  { panel, y }: { readonly panel: Panel; readonly y: number },
  free: { readonly from: number },
): Html {
  return html`
    <rect class="nothing" x="${panel.x + 2}" y="${y + 4}" width="${panel.width - 4}" height="${MAP.barHeight - 2}" />
    <text class="none" x="${free.from + 4}" y="${y + 17}">no clip</text>
  `;
}

function drawBar(
  member: GroupMember,
  place: {
    readonly panel: Panel;
    readonly y: number;
    readonly free: { readonly from: number; readonly to: number } | null;
  },
  view: ShootView,
): Html {
  const { panel, y } = place;
  const perSecond = perSecondOf(panel);
  const x = panel.x + approximateForDisplay(member.offset) * perSecond;
  const seconds = (member.range.length * member.range.rate.denominator) / member.range.rate.numerator;
  const width = Math.max(2, Math.min(seconds * perSecond, panel.x + panel.width - x));
  const name = showText(fileNameOf(view.clips.get(member.clipId).path));
  const from = Math.max(x + 5, place.free?.from ?? 0);
  const room = Math.min(x + width - 3, place.free?.to ?? Infinity) - from;
  const top = y + (MAP.laneHeight - MAP.barHeight) / 2;
  return html`
    <rect
      class="bar ${member.role} ${member.confidence}"
      x="${x}"
      y="${top}"
      width="${width}"
      height="${MAP.barHeight}"
      rx="2"
    />
    ${drawLabel(labelOf(member, name, room), { x: from, y: top, room })}
  `;
}

const CONFIDENCE_SIGNS = { sure: '', likely: '≈ ', weak: '? ' } as const;

function labelOf(member: GroupMember, name: string, room: number): string {
  const sign = CONFIDENCE_SIGNS[member.confidence];
  const most = Math.floor(room / (LABEL_SIZE * CHARACTER_WIDTH)) - sign.length;
  // The ending tells nothing that the row does not tell.
  const stem = name.replace(/(?<=.)\.[a-zA-Z0-9]{2,4}$/, '');
  return most < 3 ? sign.trim() : sign + shortenMiddle(stem, most);
}

/** The inner picture clips what its font draws wider than was reckoned. */
function drawLabel(label: string, at: { readonly x: number; readonly y: number; readonly room: number }): Html | null {
  if (label === '' || at.room < 8) return null;
  return html`<svg x="${at.x}" y="${at.y}" width="${at.room}" height="${MAP.barHeight}">
    <text class="label" x="0" y="13.5">${label}</text>
  </svg>`;
}

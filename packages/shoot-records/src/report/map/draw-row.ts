import type { Recorder } from '../../recorders.ts';
import type { ShootView } from '../../shoot-view.ts';
import { html, type Html } from '../html.ts';
import { shortenMiddle } from '../show-text.ts';
import { ROLE_WORDS } from '../words.ts';
import { type Cell, cellOf, drawCell } from './draw-cell.ts';
import { drawPanel } from './draw-panel.ts';
import type { MapRow } from './lay-map.ts';
import { MAP } from './map-measures.ts';
import { drawMarks, markWidth } from './mark.ts';

interface Lane {
  readonly recorder: Recorder;
  readonly cells: readonly Cell[];
  readonly y: number;
  readonly height: number;
}

/** One row of the map as a drawing of this height: a lane for each recorder, a band for each group. */
export function drawRow(row: MapRow, view: ShootView): { readonly drawing: Html; readonly height: number } {
  const lanes = layLanes(row, view);
  const height = lanes.reduce((sum, lane) => sum + lane.height, 0);
  const drawing = html`${row.panels.map((panel) => drawPanel(panel, height, view.findings))}${lanes.map((lane) => drawLane(lane, row, view))}`;
  return { drawing, height: MAP.headerHeight + height + MAP.axisHeight };
}

function layLanes(row: MapRow, view: ShootView): readonly Lane[] {
  let y: number = MAP.headerHeight;
  return view.recorders.map((recorder) => {
    const cells = row.panels.map((panel) => cellOf(panel, recorder, view));
    const height = MAP.laneHeight * Math.max(1, ...cells.map((cell) => cell.rows.length));
    y += height;
    return { recorder, cells, y: y - height, height };
  });
}

function drawLane({ recorder, cells, y, height }: Lane, row: MapRow, view: ShootView): Html {
  const middle = y + MAP.laneHeight / 2;
  const findings = view.findings.ofRecorder(recorder.name);
  const { marks, width } = drawMarks(findings, {
    x: MAP.gutter - 6,
    y: middle,
    width: 2 * markWidth('88'),
    side: 'right',
  });
  const columns = Math.floor((MAP.gutter - 8 - width) / 7.5);
  const lines = row.panels.map((panel) => `M${round(panel.x)} ${y + height}h${round(panel.width)}`);
  return html`
    <path class="lane" d="M0 ${y + height}h${MAP.gutter - 8}${lines}" />
    <text class="recorder" x="2" y="${middle + 4.5}">
      ${shortenMiddle(recorder.name, columns)} <title>${recorder.name}, ${ROLE_WORDS[recorder.role]}</title>
    </text>
    ${marks}
    ${cells.map((cell, at) => {
      const panel = row.panels[at];
      return panel === undefined ? null : drawCell(cell, { panel, y }, view);
    })}
  `;
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}

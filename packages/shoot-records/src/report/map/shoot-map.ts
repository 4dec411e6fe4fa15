import type { ShootView } from '../../shoot-view.ts';
import { html, type Html } from '../html.ts';
import { showNumbers, showSeconds } from '../words.ts';
import { describeRow } from './describe-row.ts';
import { drawRow } from './draw-row.ts';
import { layMap, type MapRow } from './lay-map.ts';
import { mapFigure } from './map-figure.ts';
import { drawOverview } from './overview.ts';
import { unplacedFigure } from './unplaced-figure.ts';

/** The map of the shoot: an overview to scale where it takes more than one row, the rows, and what has no place. */
export function shootMap(view: ShootView): Html {
  const rows = layMap(view.groups);
  return html`
    ${rows.length === 0 ? html`<p>No clip could be placed in time yet.</p>` : null}
    ${rows.length > 1 ? drawOverview(view) : null}
    ${rows.map((row, at) => rowFigure(row, { view, at, count: rows.length }))} ${unplacedFigure(view)}
  `;
}

function rowFigure(
  row: MapRow,
  { view, at, count }: { readonly view: ShootView; readonly at: number; readonly count: number },
): Html {
  const numbers = showNumbers(row.panels.map((panel) => panel.placed.number));
  const groups = `${row.panels.length === 1 ? 'group' : 'groups'} ${numbers}`;
  const part = count > 1 ? `, part ${at + 1} of ${count}` : '';
  const { drawing, height } = drawRow(row, view);
  return mapFigure(
    {
      id: `map-${at + 1}`,
      caption: `G${groups.slice(1)}`,
      aside: `${row.day}${afterPause(row)}`,
      title: `Map of the shoot${part}: ${groups}`,
      description: describeRow(row, view),
      height,
    },
    drawing,
  );
}

function afterPause({ pauseSeconds }: MapRow): string {
  if (pauseSeconds === null || pauseSeconds < 1) return '';
  return `, after a pause of ${showSeconds({ numerator: Math.round(pauseSeconds), denominator: 1 })}`;
}

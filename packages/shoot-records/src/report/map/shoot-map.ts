import { MAP } from './map-measures.ts';
import type { ShootView } from '../../shoot-view.ts';
import { html, type Html } from '../html.ts';
import { showNumbers, showSeconds } from '../words.ts';
import { describeRow } from './describe-row.ts';
import { drawRow } from './draw-row.ts';
import { layMap, type MapRow } from './lay-map.ts';
import { drawOverview } from './overview.ts';
import { unplacedFigure } from './unplaced-figure.ts';

/** The map of the shoot: an overview to scale where it takes more than one row, then the rows. */
export function shootMap(view: ShootView): Html {
  const rows = layMap(view.groups);
  if (rows.length === 0)
    return html`<p>No clip could be placed in time yet.</p>
      ${unplacedFigure(view)}`;
  return html`${rows.length > 1 ? drawOverview(view) : null}${rows.map((row, at) => rowFigure(row, { view, at, count: rows.length }))}${unplacedFigure(view)}`;
}

function rowFigure(
  row: MapRow,
  { view, at, count }: { readonly view: ShootView; readonly at: number; readonly count: number },
): Html {
  const numbers = showNumbers(row.panels.map((panel) => panel.placed.number));
  const part = count > 1 ? `, part ${at + 1} of ${count}` : '';
  const title = `Map of the shoot${part}: ${row.panels.length === 1 ? 'group' : 'groups'} ${numbers}`;
  const words = { id: `map-${at + 1}`, title, description: describeRow(row, view) };
  const pause =
    row.pauseSeconds === null || row.pauseSeconds < 1
      ? ''
      : `, after a pause of ${showSeconds({ numerator: Math.round(row.pauseSeconds), denominator: 1 })}`;
  return html`<figure class="map-part">
    <figcaption>
      ${row.panels.length === 1 ? 'Group' : 'Groups'} ${numbers} <span class="quiet">${row.day}${pause}</span>
    </figcaption>
    <div class="scroller" tabindex="0" role="group" aria-label="${title}" style="--map-width: ${MAP.width}px">
      ${drawRow(row, view, words)}
    </div>
  </figure>`;
}

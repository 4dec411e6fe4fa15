import type { PicturedRun } from '../../shoot-picture.ts';
import type { ShootView } from '../../shoot-view.ts';
import { compareText } from '../../in-order.ts';
import { html, type Html } from '../html.ts';
import { name } from '../names.ts';
import { foundByRuns } from './found-by-runs.ts';
import { loudnessTable } from './loudness-table.ts';
import { picturesOf } from './pictures.ts';
import { plainTable } from './plain-table.ts';

/** What plugins made of the shoot: a part for each step, its pictures and figures first. Null where no plugin has run. */
export function guestsSections(view: ShootView): Html | null {
  if (view.guests.length === 0) return null;
  return html`<section aria-labelledby="plugins">
    <h2 id="plugins">What plugins made of it</h2>
    ${runsByStep(view.guests).map((runs) => partOfStep(runs, view))}
  </section>`;
}

function partOfStep(runs: readonly PicturedRun[], view: ShootView): Html {
  const [plugin = '', step = ''] = (runs[0]?.step ?? '').split('/');
  const versions = [...new Set(runs.map(({ version }) => version))].toSorted(compareText).join(', ');
  return html`<h3>${name(plugin)}: ${name(step)} <span class="quiet">version ${name(versions)}</span></h3>
    ${loudnessTable(runs, view) ?? plainTable(runs, view)} ${picturesOf(runs, view)} ${foundByRuns(runs)}`;
}

/** By the step's name, and in it by the subject's. */
function runsByStep(runs: readonly PicturedRun[]): readonly (readonly PicturedRun[])[] {
  const steps = Map.groupBy(runs, ({ step }) => step);
  return [...steps]
    .toSorted(([one], [other]) => compareText(one, other))
    .map(([, own]) => own.toSorted((one, other) => compareText(one.subject.id, other.subject.id)));
}

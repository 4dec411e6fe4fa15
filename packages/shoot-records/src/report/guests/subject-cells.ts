import type { PicturedRun } from '../../shoot-picture.ts';
import type { ShootView } from '../../shoot-view.ts';
import { html, type Html } from '../html.ts';
import { fileName, name } from '../names.ts';

/** What a run was about, as two cells of a table: the recorder and the clip, or the roll, or the whole shoot. */
export function subjectCells({ subject }: PicturedRun, { clips }: ShootView): Html {
  if (subject.kind === 'shoot')
    return html`<th scope="row">all</th>
      <td>the whole shoot</td>`;
  const clip = subject.kind === 'clip' ? clips.find(subject.id) : null;
  if (clip === null)
    return html`<th scope="row">${name(subject.kind)}</th>
      <td>${fileName(subject.id)}</td>`;
  return html`<th scope="row">${name(clip.recorder)}</th>
    <td>${fileName(clip.path)}</td>`;
}

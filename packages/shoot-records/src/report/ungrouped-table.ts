import type { ShootView } from '../shoot-view.ts';
import { findingLinks } from './finding-links.ts';
import { html, type Html } from './html.ts';
import { fileName, name } from './names.ts';
import { counted } from './words.ts';

/** The clips that are in no group, each with its reason; files that are no media are only counted. Null when there are neither. */
export function ungroupedSection(view: ShootView): Html | null {
  const clips = view.ungrouped.filter((one) => one.code !== 'NO_MEDIA');
  const other = view.ungrouped.length - clips.length;
  if (view.ungrouped.length === 0) return null;
  return html`<section aria-labelledby="ungrouped">
    <h2 id="ungrouped">In no group</h2>
    ${clips.length === 0 ? null : table(clips, view)}${
      other === 0
        ? null
        : html`<p>
            ${counted(other, 'other file')} ${other === 1 ? 'is' : 'are'} neither picture nor sound and
            ${other === 1 ? 'needs' : 'need'} no group.
          </p>`
    }
  </section>`;
}

function table(clips: ShootView['ungrouped'], view: ShootView): Html {
  return html`<div class="scroller" tabindex="0" role="group" aria-label="Clips in no group">
    <table>
      <caption>
        These clips have no place in time; line them up by sound or by a clap.
      </caption>
      <thead>
        <tr>
          <th scope="col">Recorder</th>
          <th scope="col" class="wide">Clip</th>
          <th scope="col" class="wide reason">Why</th>
          <th scope="col">Findings</th>
        </tr>
      </thead>
      <tbody>
        ${clips.map(({ clipId, recorder, why }) => {
          const about = view.findings.ofUngrouped(recorder).filter((finding) => finding.clipIds.includes(clipId));
          return html`<tr>
            <th scope="row">${name(recorder)}</th>
            <td>${fileName(view.clips.get(clipId).path)}</td>
            <td>${name(why)}</td>
            <td>${findingLinks(about)}</td>
          </tr>`;
        })}
      </tbody>
    </table>
  </div>`;
}

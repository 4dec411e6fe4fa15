import type { PicturedFile, PicturedRun } from '../../shoot-picture.ts';
import type { ShootView } from '../../shoot-view.ts';
import { html, type Html } from '../html.ts';
import { name } from '../names.ts';
import { fileLink } from './file-link.ts';
import { isShownAsPicture } from './pictures.ts';
import { subjectCells } from './subject-cells.ts';
import { summaryOfOutput } from './summary-of-output.ts';

/** What runs of any step gave: in a few words, with the files that they left. */
export function plainTable(runs: readonly PicturedRun[], view: ShootView): Html {
  return html`<div class="scroller" tabindex="0" role="group" aria-label="What the step gave">
    <table class="given">
      <thead>
        <tr>
          <th scope="col">Recorder</th>
          <th scope="col" class="wide">About</th>
          <th scope="col" class="wide">Gave</th>
          <th scope="col" class="wide">Files</th>
        </tr>
      </thead>
      <tbody>
        ${runs.map(
          (run) =>
            html`<tr>
              ${subjectCells(run, view)}
              <td>${name(summaryOfOutput(run.output))}</td>
              <td>${filesOf(run)}</td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

function filesOf({ files }: PicturedRun): Html {
  if (files.length === 0) return html`none`;
  const pictures = files.filter(isShownAsPicture).length;
  const others = files.filter((file) => !isShownAsPicture(file));
  return html`${pictures === 0 ? null : html`${pictures} shown below. `}${others.map(oneFile)}`;
}

function oneFile(file: PicturedFile): Html {
  return html`<span class="quiet">${fileLink(file)}</span>`;
}

import { z } from 'zod';
import type { PicturedRun } from '../../shoot-picture.ts';
import type { ShootView } from '../../shoot-view.ts';
import { html, type Html } from '../html.ts';
import { name } from '../names.ts';
import { titleOfCode } from '../words.ts';
import { subjectCells } from './subject-cells.ts';

/** What our plugin `loudness` gives of a clip, as far as the table shows it. */
const Measured = z.object({
  tracks: z.array(
    z.object({
      track: z.number().int().nonnegative(),
      integrated: z.number().nullable(),
      range: z.number(),
      truePeak: z.number().nullable(),
    }),
  ),
});

type Track = z.output<typeof Measured>['tracks'][number];

/** The loudness of every sound track, when these runs measured it; null when they are of another step, or of a version that tells it otherwise. */
export function loudnessTable(runs: readonly PicturedRun[], view: ShootView): Html | null {
  if (runs[0]?.step !== 'loudness/measure') return null;
  const measured = runs.map((run) => ({ run, result: Measured.safeParse(run.output) }));
  if (measured.some(({ result }) => !result.success)) return null;
  return html`<div class="scroller" tabindex="0" role="group" aria-label="Loudness of each sound track">
    <table class="loudness">
      <caption>
        After EBU R 128: integrated loudness, loudness range, and the highest true peak of the track’s channels.
      </caption>
      <thead>
        <tr>
          <th scope="col">Recorder</th>
          <th scope="col" class="wide">Clip</th>
          <th scope="col">Track</th>
          <th scope="col">Integrated</th>
          <th scope="col">Range</th>
          <th scope="col">True peak</th>
          <th scope="col">Findings</th>
        </tr>
      </thead>
      <tbody>
        ${measured.flatMap(({ run, result }) => (result.data?.tracks ?? []).map((track) => trackRow(run, track, view)))}
      </tbody>
    </table>
  </div>`;
}

function trackRow(run: PicturedRun, { track, integrated, range, truePeak }: Track, view: ShootView): Html {
  return html`<tr>
    ${subjectCells(run, view)}
    <td class="number">${track + 1}</td>
    <td class="number">${level(integrated, 'LUFS')}</td>
    <td class="number">${range.toFixed(1)} LU</td>
    <td class="number">${level(truePeak, 'dBTP')}</td>
    <td>${track > 0 ? null : findingsOf(run)}</td>
  </tr>`;
}

/** A plugin's findings are about the clip; they stand with its first track. */
function findingsOf({ findings }: PicturedRun): Html {
  const titles = new Set(findings.map(({ code }) => titleOfCode(code.slice(code.indexOf('/') + 1))));
  return titles.size === 0 ? html`none` : name([...titles].join(', '));
}

function level(decibels: number | null, unit: string): string {
  return decibels === null ? 'silent' : `${decibels.toFixed(1)} ${unit}`;
}

import { z } from 'zod';
import { relativeUrl } from '../../file-url.ts';
import type { PicturedFile, PicturedRun } from '../../shoot-picture.ts';
import type { ShootView } from '../../shoot-view.ts';
import { html, type Html } from '../html.ts';
import { showText } from '../show-text.ts';
import { fileLink } from './file-link.ts';

/** What a browser shows in an `img`, where nothing in the file can run. */
const PICTURES = /\.(?:svg|png|jpe?g|gif|webp|avif)$/i;

/** What our plugin `contact-sheet` says of its files. */
const Sheets = z.object({ sheets: z.array(z.object({ group: z.string().nullable(), file: z.string() })) });

/** Whether a file stands in the report as a picture. One that is not at this destination is only named. */
export function isShownAsPicture({ path, place }: PicturedFile): boolean {
  return place !== null && PICTURES.test(path);
}

/** The pictures that runs left, one below the other, each a link to itself; loaded when they come into view. */
export function picturesOf(runs: readonly PicturedRun[], view: ShootView): readonly Html[] {
  return runs.flatMap((run) => run.files.filter(isShownAsPicture).map((file) => figure(run, file, view)));
}

function figure(run: PicturedRun, file: PicturedFile, view: ShootView): Html {
  const words = describe(run, file, view);
  const url = relativeUrl(file.place ?? '', 1);
  return html`<figure class="made">
    <figcaption>${words} <span class="quiet">${fileLink(file)}</span></figcaption>
    <img src="${url}" alt="${words}" loading="lazy" decoding="async" />
  </figure>`;
}

function describe(run: PicturedRun, file: PicturedFile, view: ShootView): string {
  const sheet = Sheets.safeParse(run.output).data?.sheets.find((one) => one.file === file.path);
  const about = run.subject.kind === 'shoot' ? 'the shoot' : showText(run.subject.id);
  if (run.step !== 'contact-sheet/draw' || sheet === undefined) return `Picture of ${about} by ${run.step}`;
  const placed = view.groups.find(({ group }) => group.id === sheet.group);
  return placed === undefined
    ? 'Contact sheet of the clips in no group'
    : `Contact sheet of group ${placed.number}, ${placed.group.start.timecode}`;
}

import { relativeUrl } from '../../file-url.ts';
import type { PicturedFile } from '../../shoot-picture.ts';
import { html, type Html } from '../html.ts';
import { fileName, name } from '../names.ts';

/** A file that a run left, by its name: a link where it lies at this destination, else the destinations that have it. */
export function fileLink({ path, place, elsewhere }: PicturedFile): Html {
  if (place !== null) return html`<a href="${relativeUrl(place, 1)}">${fileName(path)}</a>`;
  return html`${fileName(path)},
  ${elsewhere.length === 0 ? 'which is not there any more' : html`at ${name(elsewhere.join(' and '))}`}`;
}

import type { PlacedGroup } from '../axis/place-groups.ts';
import { html, type Html } from './html.ts';
import { showText } from './show-text.ts';

/** A name or sentence from outside: whatever script it is in, it does not disturb the text around it. */
export function name(text: string): Html {
  return html`<bdi>${showText(text)}</bdi>`;
}

/** A file's name or path, in the type of code. */
export function fileName(path: string): Html {
  return html`<bdi class="file">${showText(path)}</bdi>`;
}

/** A group by its number and timecode, with a link to its clips. */
export function groupLink({ group, number }: Pick<PlacedGroup, 'group' | 'number'>): Html {
  return html`<a href="#group-${number}">group ${number}</a>, ${group.start.timecode}`;
}

import type { PlacedGroup } from '../axis/place-groups.ts';
import type { ShootView } from '../shoot-view.ts';
import { html, type Html } from './html.ts';
import { name, groupLink } from './names.ts';
import { showNumbers } from './words.ts';

/** Which groups can be edited now, and what each of the others waits for. */
export function editList({ groups, clips }: ShootView): Html {
  const ready = groups.filter(({ group }) => group.edit.state === 'editable');
  const waiting = groups.filter(({ group }) => group.edit.state === 'waiting');
  return html`${readyLine(ready, groups.length)}${
    waiting.length === 0
      ? null
      : html`<p>Not yet:</p>
          <ul class="waiting">
            ${waiting.map(waitingItem)}
          </ul>`
  }`;

  function waitingItem({ group, number }: PlacedGroup): Html {
    const missing = group.edit.state === 'waiting' ? group.edit.missing : [];
    return html`<li>
      ${groupLink({ group, number })}:
      ${missing.map(({ clipId, why }, at) => {
        const clip = clipId === null ? null : clips.find(clipId);
        const isNamed = clip === null || why.includes(clip.path);
        return html`${at > 0 ? ' ' : null}<span class="missing"
            >${name(why)}${isNamed ? null : html` (${name(clip.path)})`}</span
          >`;
      })}
    </li>`;
  }
}

function readyLine(ready: readonly PlacedGroup[], count: number): Html {
  if (count === 0) return html`<p>There is no group yet.</p>`;
  if (ready.length === 0) return html`<p>No group can be edited yet.</p>`;
  const numbers = showNumbers(ready.map(({ number }) => number));
  if (ready.length === count) return html`<p>All groups can be edited now: ${numbers}.</p>`;
  return html`<p>${ready.length === 1 ? 'Group' : 'Groups'} ${numbers} can be edited now.</p>`;
}

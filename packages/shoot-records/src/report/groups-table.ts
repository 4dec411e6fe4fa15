import type { GroupMember } from '@quayside/sync-grouping';
import { subtractRationals } from '@quayside/timecode';
import type { PlacedGroup } from '../axis/place-groups.ts';
import { ownRangeOf } from '../own-range.ts';
import { groupTimelineName } from '../record-names.ts';
import type { ShootView } from '../shoot-view.ts';
import { findingLinks } from './finding-links.ts';
import { html, type Html } from './html.ts';
import { fileName, name } from './names.ts';
import { counted, ROLE_WORDS, showSeconds } from './words.ts';

const CONFIDENCE_WORDS = { sure: 'sure', likely: 'likely (≈)', weak: 'weak (?)' } as const;

/** Every group with its members: where each begins, what part of it is used, how sure that is and what it rests on. */
export function groupsTable(view: ShootView): Html | null {
  if (view.groups.length === 0) return null;
  return html`<div class="scroller" tabindex="0" role="group" aria-label="Groups and their clips">
    <table class="groups">
      <caption>
        Each clip begins so long after its group does. A place that is likely or weak must be checked by eye and ear.
      </caption>
      <thead>
        <tr>
          <th scope="col">Recorder</th>
          <th scope="col" class="wide">Clip</th>
          <th scope="col">Begins after</th>
          <th scope="col">In samples</th>
          <th scope="col" class="part">Part used</th>
          <th scope="col" class="wide reason">Confidence</th>
          <th scope="col">Findings</th>
        </tr>
      </thead>
      ${view.groups.map((placed) => groupBody(placed, view))}
    </table>
  </div>`;
}

function groupBody(placed: PlacedGroup, view: ShootView): Html {
  const { group, number, start, end } = placed;
  const state = group.edit.state === 'editable' ? 'can be edited now' : 'cannot be edited yet';
  const whole = view.findings.ofWholeGroup(group.id);
  return html`<tbody>
    <tr class="group">
      <th scope="rowgroup" colspan="7" id="group-${number}">
        Group ${number} <span class="timecode">${group.start.timecode}</span>
        <span class="quiet"
          >${group.day.date}${group.day.isCertain ? '' : ' by the files’ own clock'},
          ${showSeconds(subtractRationals(end, start))} at ${group.rate.name}, ${state}.
          <a href="${groupTimelineName(group.id)}">Timeline of group ${number}</a></span
        >${whole.length > 0 ? html` ${findingLinks(whole)}` : null}
      </th>
    </tr>
    ${group.members.map((member) => memberRow(member, placed, view))}
  </tbody>`;
}

function memberRow(member: GroupMember, { group }: PlacedGroup, view: ShootView): Html {
  const clip = view.clips.get(member.clipId);
  const about = view.findings.ofGroup(group.id).filter((finding) => finding.clipIds.includes(clip.id));
  return html`<tr>
    <th scope="row">${name(member.recorder)} <span class="quiet">${ROLE_WORDS[member.role]}</span></th>
    <td>
      ${fileName(clip.path)}${clip.place === null ? html` <span class="quiet">not at this destination</span>` : null}
    </td>
    <td class="number">${counted(member.offsetInFrames, 'frame')}</td>
    <td class="number">${member.offsetInSamples} <span class="rate">at ${member.sampleRate} Hz</span></td>
    <td>${partUsed(member, view)}</td>
    <td>${CONFIDENCE_WORDS[member.confidence]} <span class="quiet">${name(member.restsOn)}</span></td>
    <td>${findingLinks(about)}</td>
  </tr>`;
}

function partUsed(member: GroupMember, view: ShootView): Html {
  const { range, isShared } = member;
  const { length } = ownRangeOf(view.clips.get(member.clipId), range);
  const shared = isShared ? html` <span class="quiet">runs through several groups</span>` : null;
  if (range.from === 0 && range.length === length) return html`all ${range.length} ${range.unit}${shared}`;
  return html`${range.length} of ${length} ${range.unit}, from ${range.from}${shared}`;
}

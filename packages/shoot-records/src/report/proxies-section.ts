import { type ClipPlan, type Estimate, type PlanBudget, type PlanOnRecord, printBytes } from '@quayside/proxy-planning';
import { PROXY_PLAN } from '../record-names.ts';
import { html, type Html } from './html.ts';
import { fileName, name } from './names.ts';
import { counted, showInstant, showSeconds } from './words.ts';

type ClipToShow = Exclude<ClipPlan, { state: 'not-needed' }>;

/** What proxies are planned, what they weigh and take, and what has no room; clips that need none are counted. Null without a plan. */
export function proxiesSection(planned: PlanOnRecord | null): Html | null {
  if (planned === null) return null;
  const { plan, plannedAt, changes } = planned;
  const clips = plan.clips.filter((clip): clip is ClipToShow => clip.state !== 'not-needed');
  return html`<section aria-labelledby="proxies">
    <h2 id="proxies">Proxies</h2>
    <p>
      ${totals(planned)} Planned on ${showInstant(plannedAt)}; <a href="${PROXY_PLAN}">${PROXY_PLAN}</a> has all of it.
    </p>
    ${
      changes.length === 0
        ? null
        : html`<p>Since the plan before:</p>
            <ul>
              ${changes.map(({ sentence }) => html`<li>${name(sentence)}</li>`)}
            </ul>`
    }
    ${clips.length === 0 ? null : table(clips)}
  </section>`;
}

function totals({ plan: { totals: sum, budget } }: PlanOnRecord): string {
  const planned =
    sum.planned.count === 0
      ? 'No clip gets a proxy.'
      : `${counted(sum.planned.count, 'clip')} ${sum.planned.count === 1 ? 'gets' : 'get'} a proxy: ${range(sum.planned.bytes, printBytes)}, ${range(sum.planned.seconds, showWork)} of work.`;
  const left = sum.leftOut.count === 0 ? '' : ` ${counted(sum.leftOut.count, 'clip')} should and have no room.`;
  const others =
    sum.notNeededCount === 0
      ? ''
      : ` ${counted(sum.notNeededCount, 'file')} ${sum.notNeededCount === 1 ? 'is edited as it is' : 'are edited as they are'}.`;
  return `${planned}${left}${others}${budget === null ? '' : ` ${roomOf(budget)}`}`;
}

function roomOf({ bytes, setBy, place }: PlanBudget): string {
  return setBy === 'policy'
    ? `The budget is ${printBytes(bytes)}.`
    : `At ${place} there is room for ${printBytes(bytes)}.`;
}

function range({ expected, low, high }: Estimate, show: (amount: number) => string): string {
  return `about ${show(expected)} (${show(low)} to ${show(high)})`;
}

function showWork(seconds: number): string {
  return showSeconds({ numerator: Math.round(seconds * 10), denominator: 10 });
}

function table(clips: readonly ClipToShow[]): Html {
  return html`<div class="scroller" tabindex="0" role="group" aria-label="Clips and their proxies">
    <table>
      <caption>
        In the order in which they are to be made. Rate, timecode and sound channels are those of the original.
      </caption>
      <thead>
        <tr>
          <th scope="col">Recorder</th>
          <th scope="col" class="wide">Clip</th>
          <th scope="col" class="part">Proxy</th>
          <th scope="col">Size</th>
          <th scope="col">Work</th>
          <th scope="col" class="wide reason">Why</th>
        </tr>
      </thead>
      <tbody>
        ${clips.map(
          (clip) =>
            html`<tr>
              <th scope="row">${name(clip.recorder)}</th>
              <td>${fileName(clip.path)}</td>
              ${cells(clip)}
              <td>${name(clip.why)}</td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

function cells(clip: ClipToShow): Html {
  if (clip.state === 'impossible')
    return html`<td>cannot be planned</td>
      <td></td>
      <td></td>`;
  const { codec, width, height } = clip.proxy;
  const left = clip.state === 'left-out' ? html` <span class="quiet">left out</span>` : null;
  return html`<td>${codec} ${width}x${height}${left}</td>
    <td class="number">${printBytes(clip.bytes.expected)}</td>
    <td class="number">${showWork(clip.seconds.expected)}</td>`;
}

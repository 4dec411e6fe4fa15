import {
  type ClipPlan,
  type ClipRendering,
  type Estimate,
  type PlanBudget,
  type PlanOnRecord,
  printBytes,
} from '@quayside/proxy-planning';
import type { ClipIndex } from '../clip-index.ts';
import { PROXY_PLAN } from '../record-names.ts';
import { html, type Html } from './html.ts';
import { fileName, name } from './names.ts';
import { counted, showInstant, showSeconds } from './words.ts';

/** A clip of the plan, and how far its proxy is where that is known. */
interface ClipToShow {
  readonly plan: Exclude<ClipPlan, { state: 'not-needed' }>;
  readonly rendering: ClipRendering | null;
}

/**
 * What proxies are planned, what they weigh and take, and what has no room; clips that need none are counted. Beside it what those
 * came to that are made. Null without a plan.
 */
export function proxiesSection(planned: PlanOnRecord | null, index: ClipIndex): Html | null {
  if (planned === null) return null;
  const { plan, plannedAt, changes } = planned;
  const clips = plan.clips.flatMap((clip): readonly ClipToShow[] =>
    clip.state === 'not-needed' ? [] : [{ plan: clip, rendering: index.find(clip.clipId)?.rendering ?? null }],
  );
  return html`<section aria-labelledby="proxies">
    <h2 id="proxies">Proxies</h2>
    <p>
      ${totals(planned)} Planned on ${showInstant(plannedAt)}; <a href="${PROXY_PLAN}">${PROXY_PLAN}</a> has all of it.
    </p>
    ${made(clips)}
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

/** What was made of it, beside what the plan had said of the same clips before. */
function made(clips: readonly ClipToShow[]): Html | null {
  const done = clips.flatMap(({ rendering }) =>
    rendering?.made == null || !KEPT.has(rendering.state) ? [] : rendering.made,
  );
  if (done.length === 0) return null;
  const sum = (of: (one: (typeof done)[number]) => number): number => done.reduce((total, one) => total + of(one), 0);
  const [bytes, planned] = [sum((one) => one.bytes), sum((one) => one.predicted.bytes.expected)];
  const [seconds, expected] = [sum((one) => one.seconds), sum((one) => one.predicted.seconds.expected)];
  return html`<p>
    ${counted(done.length, 'clip')} ${done.length === 1 ? 'has' : 'have'} it: ${printBytes(bytes)} where the plan said
    ${printBytes(planned)} (${offBy(bytes, planned)}), and ${showWork(seconds)} of work where it said
    ${showWork(expected)} (${offBy(seconds, expected)}).
  </p>`;
}

const KEPT: ReadonlySet<ClipRendering['state']> = new Set(['made', 'recognised']);

function offBy(got: number, said: number): string {
  const percent = Math.round((got / said - 1) * 100);
  if (percent === 0) return 'as said';
  return `${Math.abs(percent)} % ${percent > 0 ? 'more' : 'less'}`;
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
          <th scope="col">Size planned</th>
          <th scope="col">Size made</th>
          <th scope="col">Work planned</th>
          <th scope="col">Work done</th>
          <th scope="col" class="part">State</th>
          <th scope="col" class="wide reason">Why</th>
        </tr>
      </thead>
      <tbody>
        ${clips.map(
          (clip) =>
            html`<tr>
              <th scope="row">${name(clip.plan.recorder)}</th>
              <td>${fileName(clip.plan.path)}</td>
              ${cells(clip)}
              <td>${name(whyOf(clip))}</td>
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;
}

/** The numbers of one that is made are those that the plan had said before it was. */
function cells({ plan, rendering }: ClipToShow): Html {
  if (plan.state === 'impossible')
    return html`<td>cannot be planned</td>
      <td></td>
      <td></td>
      <td></td>
      <td></td>
      <td></td>`;
  const { codec, width, height } = plan.proxy;
  const came = rendering?.made ?? null;
  const { bytes, seconds } = came?.predicted ?? plan;
  return html`<td>${codec} ${width}x${height}</td>
    <td class="number">${printBytes(bytes.expected)}</td>
    <td class="number">${came === null ? '' : printBytes(came.bytes)}</td>
    <td class="number">${showWork(seconds.expected)}</td>
    <td class="number">${came === null ? '' : showWork(came.seconds)}</td>
    <td>${plan.state === 'left-out' ? 'left out' : (rendering?.state ?? 'planned')}</td>`;
}

/** Why the plan has it; or of one that could not be made, why not. */
function whyOf({ plan, rendering }: ClipToShow): string {
  return rendering?.state === 'failed' || rendering?.state === 'cancelled' ? rendering.why : plan.why;
}

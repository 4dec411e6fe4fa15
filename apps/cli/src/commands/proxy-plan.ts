import type { AnswerOf, ApiClient } from '@quayside/api-client';
import { type Estimate, printBytes } from '@quayside/proxy-planning';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { countText, durationText } from '../screen/quantities.ts';
import { say, sayJson } from '../screen/say.ts';
import { newestShoot } from '../service-api/newest-shoot.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';

type Plan = AnswerOf<'get', '/v1/shoots/{id}/proxies'>;
type PlanTotals = NonNullable<Plan['totals']>;
type PlannedClip = Plan['clips'][number];

interface Options {
  readonly config?: string;
  readonly json?: boolean;
}

/** Shows the plan of a shoot's proxies (the newest shoot when none is named): which clips get one, what they weigh and take, and why. */
export async function showProxyPlan(shoot: string | undefined, options: Options): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  const id = shoot ?? (await newestShoot(service));
  const answer = await wholePlan(service, id);
  if (options.json === true) sayJson(answer);
  else if (answer.totals === null)
    say(`Shoot ${id} has no plan of proxies: nothing is known of its clips yet, or none is wanted (proxies.plan).`);
  else say(...planLines(id, answer, answer.totals));
  return EXIT.ok;
}

function planLines(id: string, answer: Plan, totals: PlanTotals): string[] {
  const { clips, changes, budget, isCurrent, standing, made } = answer;
  return [
    `Shoot ${id}: ${totalsText(totals)}`,
    ...(budget === null
      ? []
      : [`There is room for ${printBytes(budget.bytes)} (${budget.place ?? 'proxies.budget'}).`]),
    ...(isCurrent ? [] : ['A newer plan is being made.']),
    ...standingLines(id, standing),
    ...(made.count === 0
      ? []
      : [
          `Made so far: ${made.count} of ${totals.planned.count}, ${printBytes(made.bytes)} (planned ${printBytes(made.predicted.bytes)}), ${durationText(made.seconds)} of work (planned ${durationText(made.predicted.seconds)}).`,
        ]),
    ...changes.map(({ sentence }) => `Since the plan before: ${printable(sentence)}`),
    '',
    ...columns([['CLIP', 'PROXY', 'SIZE', 'TIME', 'STATE', 'WHY'], ...clips.map(clipRow)]),
  ];
}

function totalsText({ planned, leftOut, notNeededCount, impossibleCount }: PlanTotals): string {
  const made =
    planned.count === 0
      ? 'no clip gets a proxy'
      : `${countText(planned.count, 'clip')} ${planned.count === 1 ? 'gets' : 'get'} a proxy, ${range(planned.bytes, printBytes)}, ${range(planned.seconds, durationText)} of work`;
  const others = [
    leftOut.count === 0 ? [] : [`${leftOut.count} have no room (${printBytes(leftOut.bytes.expected)})`],
    notNeededCount === 0 ? [] : [`${countText(notNeededCount, 'file')} edited as they are`],
    impossibleCount === 0 ? [] : [`${impossibleCount} cannot be planned`],
  ].flat();
  return `${[made, ...others].join('; ')}.`;
}

function range({ expected, low, high }: Estimate, show: (amount: number) => string): string {
  const [shown, least, most] = [show(expected), show(low), show(high)];
  return least === most ? shown : `${shown} (${least} to ${most})`;
}

function clipRow(clip: PlannedClip): readonly string[] {
  const name = `${clip.recorder} ${printable(clip.path)}`;
  if (clip.state === 'not-needed') return [name, 'none needed', '', '', '', printable(clip.why)];
  if (clip.state === 'impossible') return [name, 'cannot be planned', '', '', '', printable(clip.why)];
  const { codec, width, height } = clip.proxy;
  const what = `${codec} ${width}x${height}`;
  const { made } = clip.rendering;
  const [bytes, seconds] = [made?.bytes ?? clip.bytes.expected, made?.seconds ?? clip.seconds.expected];
  return [name, what, printBytes(bytes), durationText(seconds), stateText(clip), whyOf(clip)];
}

function standingLines(id: string, standing: Plan['standing']): readonly string[] {
  if (standing === null || standing.state === 'free') return [];
  const { state, said, changes } = standing;
  const by = said === null ? '' : ` by ${printable(said.by)}`;
  if (state === 'approved') return [`Approved${by}.`];
  if (state === 'held') return [`Held${by}: no proxy is begun before "quayside proxies approve ${id}".`];
  return [
    `No proxy is made before somebody approves the plan: "quayside proxies approve ${id}".`,
    ...changes.map(({ sentence }) => `Since it was approved: ${printable(sentence)}`),
  ];
}

function stateText({ state: planned, rendering: { state, fraction } }: PlannedClip): string {
  if (planned === 'left-out') return 'no room';
  return fraction === null ? state : `${state} ${Math.floor(fraction * 100)} %`;
}

/** Why the plan has it; or, of one that is not being made as it should, why not. */
function whyOf({ why, rendering }: PlannedClip): string {
  return printable(TROUBLED.has(rendering.state) ? rendering.why : why);
}

const TROUBLED: ReadonlySet<string> = new Set(['failed', 'cancelled']);

async function wholePlan(service: ApiClient, id: string): Promise<Plan> {
  const pages: Plan[] = [];
  for await (const page of service.pages('/v1/shoots/{id}/proxies', { path: { id }, query: { limit: 2000 } }))
    pages.push(page);
  const [first] = pages;
  if (first === undefined) throw new Error('A list has a first page.');
  return { ...first, clips: pages.flatMap(({ clips }) => clips), next: null };
}

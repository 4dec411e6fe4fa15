import type { Configuration } from '@quayside/configuration';
import type { Store } from '@quayside/job-queue';
import { type BuiltInOutput, keyOfRun, planState, type RunDecision } from '@quayside/pipeline';
import { type ClipPlan, type PlanStanding, standingOf } from '@quayside/proxy-planning';
import { digestOf } from '../plugins/load-plugins.ts';

export const PLANNING = 'proxy-planning';

/** What the plan of a shoot's proxies says of a clip to guests' steps that come after it. */
export interface PlannedClip {
  readonly given: BuiltInOutput;
  /** Its part of the plan; null while there is none that counts. */
  readonly plan: ClipPlan | null;
  /** When its turn comes in the shoot: the order of the plan. */
  readonly place: number;
}

/** The plan of a shoot by clip, with what those wait for of which it says nothing that counts yet. */
export interface PlanOfClips {
  of(clipId: string): PlannedClip;
}

/** What of the configuration decides whether a plan counts. */
export interface ProxyPolicy {
  readonly proxies: Pick<Configuration['proxies'], 'approval'>;
}

/** Reads the plan as it is now, and what people say of it. */
export async function planOfClips(store: Store, shootId: string, { proxies }: ProxyPolicy): Promise<PlanOfClips> {
  const progress = await store.shootProgress(shootId);
  const isCurrent = progress.planning !== null && progress.planned === planState(progress);
  const planned = isCurrent ? await store.proxyPlan(shootId) : null;
  const word = planned === null ? null : await store.planWord(shootId);
  const standing = planned === null ? null : standingOf(planned.plan, word, proxies.approval === 'required');
  const places = new Map(planned?.plan.clips.map((plan, place) => [plan.clipId, { plan, place }]));
  const without = progress.planning === null ? NONE_WANTED : NOT_YET;
  return {
    of(clipId) {
      const found = places.get(clipId);
      return found === undefined
        ? { given: without, plan: null, place: places.size }
        : { given: givenOf(found.plan, standing), ...found };
    },
  };
}

const NONE_WANTED: BuiltInOutput = { verdict: 'rest', why: 'No proxies are planned (proxies.plan).', state: '' };
const NOT_YET: BuiltInOutput = { verdict: 'wait', why: 'It waits for the plan of proxies.', state: '' };

/** Estimates may move without what is made being another. */
function givenOf(plan: ClipPlan, standing: PlanStanding | null): BuiltInOutput {
  if (plan.state !== 'planned') return { verdict: 'rest', why: plan.why, state: plan.state };
  const state = digestOf(plan.proxy);
  if (standing?.state === 'asked')
    return { verdict: 'wait', why: 'It waits for somebody to approve the plan of proxies.', state };
  if (standing?.state === 'held')
    return { verdict: 'wait', why: `The plan of proxies is held by ${standing.said?.by ?? 'somebody'}.`, state };
  return { verdict: 'run', why: plan.why, state };
}

/** What decisions about runs are given of it, for these clips. */
export function builtInOutputs(plans: PlanOfClips, clipIds: readonly string[]): ReadonlyMap<string, BuiltInOutput> {
  return new Map(clipIds.map((id) => [keyOfRun(PLANNING, { kind: 'clip', id }), plans.of(id).given]));
}

/** Whether a run is made by its clip's part of the plan, and in the plan's order. */
export function followsPlan({ step, subject }: Pick<RunDecision, 'step' | 'subject'>): boolean {
  return subject.kind === 'clip' && step.after.includes(PLANNING);
}

import type { Clip } from '@quayside/shoot';
import { estimateBytes } from '../estimates/estimate-bytes.ts';
import { addEstimates } from '../estimates/estimate.ts';
import { estimateSeconds } from '../estimates/estimate-seconds.ts';
import { type Measured, sortMeasured } from '../estimates/measured-proxy.ts';
import type { ProxyPolicy } from '../policy/proxy-policy.ts';
import { compareText } from './compare-text.ts';
import { type Decision, decideClip } from './decide-clip.ts';
import { budgetOf, fitBudget } from './fit-budget.ts';
import { orderByGroups, type Urgency } from './order-groups.ts';
import type { PlanContext } from './plan-context.ts';
import type { ClipPlan, ClipWithProxy, PlanTotals, ProxyPlan } from './proxy-plan.ts';

/**
 * Which clips of a shoot get which proxy, what that weighs and takes, and in which order: every clip stands in the plan once,
 * with its reason. The same whatever order the clips come in; grows with n log n.
 */
export function planProxies(clips: readonly Clip[], policy: ProxyPolicy, context: PlanContext): ProxyPlan {
  const urgencies = orderByGroups(context.groups);
  const measured = sortMeasured(context.measured);
  const decided = clips
    .map((clip) => decide(clip, urgencies.get(clip.id), policy))
    .toSorted((one, other) => compareText(one.clip.id, other.clip.id));

  const wanted = decided
    .flatMap((one) => (one.decision.needs === 'proxy' ? [{ ...one, decision: one.decision }] : []))
    .toSorted((one, other) => placeOf(one) - placeOf(other) || newerFirst(one, other))
    .map((one) => withEstimates(one, measured));
  const budget = budgetOf(policy, context.space);
  const others = decided.flatMap(({ clip, urgency, decision }): readonly ClipPlan[] => {
    if (decision.needs === 'proxy') return [];
    const state = decision.needs === 'nothing' ? 'not-needed' : 'impossible';
    return [{ state, ...nameOf(clip, urgency), rule: decision.rule, why: decision.why }];
  });
  const all: ClipPlan[] = [...fitBudget(wanted, budget), ...others];
  return { clips: all, totals: totalsOf(all), budget };
}

interface Decided<Of extends Decision = Decision> {
  readonly clip: Clip;
  readonly urgency: Urgency | undefined;
  readonly decision: Of;
}

function decide(clip: Clip, urgency: Urgency | undefined, policy: ProxyPolicy): Decided {
  const ofComplete = urgency?.group.isComplete === true ? 'complete' : 'incomplete';
  return { clip, urgency, decision: decideClip(clip, urgency === undefined ? 'none' : ofComplete, policy) };
}

function placeOf({ urgency }: Decided): number {
  return urgency?.place ?? Number.MAX_SAFE_INTEGER;
}

/** Clips of no group the newest first; within a group they stay in the order of their ids. */
function newerFirst(one: Decided, other: Decided): number {
  return one.urgency === undefined ? compareText(other.clip.modifiedAt, one.clip.modifiedAt) : 0;
}

function nameOf(clip: Clip, urgency: Urgency | undefined): Pick<ClipPlan, 'clipId' | 'recorder' | 'path' | 'groupId'> {
  return { clipId: clip.id, recorder: clip.recorder, path: clip.path, groupId: urgency?.group.id ?? null };
}

function withEstimates(
  { clip, urgency, decision }: Decided<Extract<Decision, { needs: 'proxy' }>>,
  measured: Measured,
): ClipWithProxy {
  const { proxy, rule, why } = decision;
  const { codec: from = '', width = 0, height = 0 } = clip.facts.picture ?? {};
  const rate = proxy.rate.numerator / proxy.rate.denominator;
  return {
    state: 'planned',
    ...nameOf(clip, urgency),
    rule: rule.name,
    why,
    proxy,
    bytes: estimateBytes(
      {
        from,
        codec: proxy.codec,
        size: proxy,
        rate,
        frames: proxy.frameCount,
        megabits: rule.megabits,
        sound: proxy.sound,
      },
      measured,
    ),
    seconds: estimateSeconds({ from, to: proxy.codec, pixels: width * height, frames: proxy.frameCount }, measured),
  };
}

function totalsOf(clips: readonly ClipPlan[]): PlanTotals {
  const share = (state: ClipWithProxy['state']): PlanTotals['planned'] => {
    const own = clips.filter((clip): clip is ClipWithProxy => clip.state === state);
    return {
      count: own.length,
      bytes: addEstimates(own.map(({ bytes }) => bytes)),
      seconds: addEstimates(own.map(({ seconds }) => seconds)),
    };
  };
  return {
    planned: share('planned'),
    leftOut: share('left-out'),
    notNeededCount: clips.filter(({ state }) => state === 'not-needed').length,
    impossibleCount: clips.filter(({ state }) => state === 'impossible').length,
  };
}

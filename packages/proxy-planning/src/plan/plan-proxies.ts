import type { Clip } from '@quayside/shoot';
import { estimateBytes } from '../estimates/estimate-bytes.ts';
import { addEstimates } from '../estimates/estimate.ts';
import { estimateSeconds } from '../estimates/estimate-seconds.ts';
import { type Measured, sumUpMeasured } from '../estimates/measured-proxy.ts';
import type { ProxyPolicy } from '../policy/proxy-policy.ts';
import { compareText } from './compare-text.ts';
import { type Decision, decideClip } from './decide-clip.ts';
import { toWeigh } from './measured-of-target.ts';
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
  const measured = sumUpMeasured(context.measured);
  const [wanted, others]: [Wanted[], ClipPlan[]] = [[], []];
  for (const clip of clips.toSorted((one, other) => compareText(one.id, other.id))) {
    const urgency = urgencies.get(clip.id);
    const named = { clipId: clip.id, recorder: clip.recorder, path: clip.path, groupId: urgency?.group.id ?? null };
    const decision = decideClip(clip, groupStateOf(urgency), policy);
    if (decision.needs === 'proxy') {
      wanted.push({ clip, urgency, planned: { ...named, ...estimated(clip, decision, measured) } });
    } else {
      const state = decision.needs === 'nothing' ? 'not-needed' : 'impossible';
      others.push({ state, ...named, rule: decision.rule, why: decision.why });
    }
  }
  wanted.sort((one, other) => placeOf(one) - placeOf(other) || newerFirst(one, other));
  const budget = budgetOf(policy, context.space);
  const ordered = wanted.map(({ planned }) => planned);
  const all: ClipPlan[] = [...fitBudget(ordered, budget), ...others];
  return { clips: all, totals: totalsOf(all), budget };
}

interface Wanted {
  readonly clip: Clip;
  readonly urgency: Urgency | undefined;
  readonly planned: ClipWithProxy;
}

function groupStateOf(urgency: Urgency | undefined): 'complete' | 'incomplete' | 'none' {
  if (urgency === undefined) return 'none';
  return urgency.group.isComplete ? 'complete' : 'incomplete';
}

function placeOf({ urgency }: Wanted): number {
  return urgency?.place ?? Number.MAX_SAFE_INTEGER;
}

/** Clips of no group the newest first; within a group they stay in the order of their ids. */
function newerFirst(one: Wanted, other: Wanted): number {
  return one.urgency === undefined ? compareText(other.clip.modifiedAt, one.clip.modifiedAt) : 0;
}

function estimated(
  { facts }: Clip,
  { proxy, rule, why }: Extract<Decision, { needs: 'proxy' }>,
  measured: Measured,
): Pick<ClipWithProxy, 'rule' | 'why' | 'proxy' | 'bytes' | 'seconds'> & { readonly state: 'planned' } {
  const { codec: from = '', width = 0, height = 0 } = facts.picture ?? {};
  const { codec, frameCount: frames } = proxy;
  return {
    state: 'planned',
    rule: rule.name,
    why,
    proxy,
    bytes: estimateBytes({ from, ...toWeigh(proxy) }, measured),
    seconds: estimateSeconds({ from, to: codec, pixels: width * height, frames }, measured),
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

import { Instant } from '@quayside/shoot';
import { z } from 'zod';
import { PlanDifference, planDifferences } from '../plan/plan-differences.ts';
import { ProxyPlan } from '../plan/proxy-plan.ts';

/** What a person last said of a shoot's plan: make it so, or make nothing until further notice. */
export const PlanWord = z.object({
  word: z.enum(['approved', 'held']),
  by: z.string().max(200),
  note: z.string().max(2000),
  at: Instant,
  /** The plan that it was said of. */
  plan: ProxyPlan,
});
export type PlanWord = z.output<typeof PlanWord>;

/**
 * Whether proxies may be made. `free`: nobody needs to be asked. `asked`: they wait for somebody's approval. `approved`, `held`:
 * as somebody said; a plan that was held stays so, also as another one, until it is approved.
 */
export const PlanStanding = z.object({
  state: z.enum(['free', 'asked', 'approved', 'held']),
  said: PlanWord.pick({ by: true, note: true, at: true }).nullable(),
  /** What the plan says otherwise than the one that was approved, while it waits to be approved anew. */
  changes: z.array(PlanDifference),
});
export type PlanStanding = z.output<typeof PlanStanding>;

/** How a plan stands with what was last said. Only other proxies than those that were approved ask anew: estimates may move. */
export function standingOf(plan: ProxyPlan, word: PlanWord | null, isApprovalNeeded: boolean): PlanStanding {
  const said = word === null ? null : { by: word.by, note: word.note, at: word.at };
  if (word?.word === 'held') return { state: 'held', said, changes: [] };
  if (!isApprovalNeeded) return { state: 'free', said: null, changes: [] };
  if (word === null) return { state: 'asked', said, changes: [] };
  if (workOf(word.plan) === workOf(plan)) return { state: 'approved', said, changes: [] };
  return { state: 'asked', said, changes: [...planDifferences(word.plan, plan)] };
}

/** Equal when and only when the same proxies are made. */
function workOf({ clips }: ProxyPlan): string {
  const made = clips.flatMap((clip) => (clip.state === 'planned' ? [JSON.stringify([clip.clipId, clip.proxy])] : []));
  return made.toSorted().join('\n');
}

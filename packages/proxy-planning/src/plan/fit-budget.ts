import { printBytes } from '../print-bytes.ts';
import type { ProxyPolicy } from '../policy/proxy-policy.ts';
import type { PlanContext } from './plan-context.ts';
import type { ClipWithProxy, PlanBudget } from './proxy-plan.ts';

/** The tighter of what the policy allows and what is free; null when neither says anything. */
export function budgetOf({ budgetBytes }: ProxyPolicy, space: PlanContext['space']): PlanBudget | null {
  const free: PlanBudget | null =
    space === null ? null : { bytes: Math.max(0, Math.floor(space.bytes)), setBy: 'free space', place: space.place };
  if (budgetBytes === null || (free !== null && free.bytes < budgetBytes)) return free;
  return { bytes: budgetBytes, setBy: 'policy', place: null };
}

/**
 * Plans in the given order what fits even at the upper end of its estimates. A sync group is planned whole or left out whole, since half a
 * take cannot be cut; smaller ones that come later may still fit. Each left out says what it would take and what was left.
 */
export function fitBudget(wanted: readonly ClipWithProxy[], budget: PlanBudget | null): readonly ClipWithProxy[] {
  if (budget === null) return wanted;
  const units = Map.groupBy(wanted, ({ clipId, groupId }) => groupId ?? `clip ${clipId}`);
  let left = budget.bytes;
  const settled = [...units.values()].flatMap((clips) => {
    const bytes = clips.reduce((sum, clip) => sum + clip.bytes.high, 0);
    if (bytes <= left) {
      left -= bytes;
      return clips;
    }
    const why = whyLeftOut({ bytes, left, isTake: clips[0]?.groupId !== null }, budget);
    return clips.map((clip): ClipWithProxy => ({ ...clip, state: 'left-out', why: `${clip.why} ${why}` }));
  });
  return [
    ...settled.filter(({ state }) => state === 'planned'),
    ...settled.filter(({ state }) => state === 'left-out'),
  ];
}

function whyLeftOut(
  { bytes, left, isTake }: { readonly bytes: number; readonly left: number; readonly isTake: boolean },
  { setBy, place }: PlanBudget,
): string {
  const whose = setBy === 'policy' ? 'the budget for proxies' : `the free space at ${place}`;
  const what = isTake ? 'The proxies of its take may need' : 'Its proxy may need';
  return `${what} ${printBytes(bytes)}, and of ${whose} ${printBytes(left)} are left: make room, or raise the budget.`;
}

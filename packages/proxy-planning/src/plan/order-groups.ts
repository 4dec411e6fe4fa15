import type { GroupToPlan } from './plan-context.ts';

/** How urgent a clip is: the place of its most urgent group, and that group. */
export interface Urgency {
  readonly place: number;
  readonly group: GroupToPlan;
}

/** By clip: the newest complete group first, then the older complete ones, then the incomplete, newest first. */
export function orderByGroups(groups: readonly GroupToPlan[]): ReadonlyMap<string, Urgency> {
  const recorded = groups.map((group, index) => ({ group, index }));
  const urgent = recorded.toSorted(
    (one, other) => Number(other.group.isComplete) - Number(one.group.isComplete) || other.index - one.index,
  );
  const urgencies = new Map<string, Urgency>();
  for (const [place, { group }] of urgent.entries()) {
    for (const clipId of group.clipIds) if (!urgencies.has(clipId)) urgencies.set(clipId, { place, group });
  }
  return urgencies;
}

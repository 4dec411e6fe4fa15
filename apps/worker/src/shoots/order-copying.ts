import { applyRollEvent, type RunQueue, type Store } from '@quayside/job-queue';
import { isAtRest, orderParcels, type GroupToCopy } from '@quayside/pipeline';
import type { Roll } from '@quayside/shoot';
import { completeGroups, type GroupingResult } from '@quayside/sync-grouping';

interface Parts {
  readonly store: Store;
  readonly queue: RunQueue;
}

/** Has every drive of the shoot that is still being copied go on with the newest complete sync group. */
export async function orderCopying(parts: Parts, shootId: string, grouping: GroupingResult): Promise<void> {
  const rolls = await parts.store.rollsOfShoot(shootId);
  for (const roll of rolls) {
    const isWaiting = roll.facts === 'placing';
    if (!isWaiting && (roll.mount === null || isAtRest(roll))) continue;
    const order = orderParcels(groupsIn(grouping, await parcelsByClip(parts.store, roll)));
    await applyRollEvent(parts, roll.id, {
      event: { type: 'ordered', visit: roll.visit, order },
      now: new Date().toISOString(),
    });
  }
}

function groupsIn(grouping: GroupingResult, parcelOf: ReadonlyMap<string, number>): readonly GroupToCopy[] {
  const complete = completeGroups(grouping);
  return grouping.groups.map((group, place) => ({
    place,
    isComplete: complete.has(group.id),
    parcels: group.members.flatMap(({ clipId }) => parcelOf.get(clipId) ?? []),
  }));
}

async function parcelsByClip(store: Store, roll: Roll): Promise<ReadonlyMap<string, number>> {
  const parcelOf = new Map<string, number>();
  for (const { index } of roll.parcels) {
    for (const { path } of await store.parcelFiles(roll.id, roll.visit, index))
      parcelOf.set(`${roll.id}/${path}`, index);
  }
  return parcelOf;
}

/** Lets the rolls of a shoot that wait for an order be copied in that of their names: it cannot be worked out. */
export async function letWaitingRollsGo(parts: Parts, shootId: string): Promise<void> {
  for (const roll of await parts.store.rollsOfShoot(shootId)) {
    if (roll.facts !== 'placing') continue;
    const event = { type: 'ordered', visit: roll.visit, order: roll.order } as const;
    await applyRollEvent(parts, roll.id, { event, now: new Date().toISOString() });
  }
}

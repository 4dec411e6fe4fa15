import { wantedRuns, wantedShootRuns } from '@quayside/pipeline';
import type { Roll, RunRequest } from '@quayside/shoot';
import type { RunQueue } from './queue.ts';
import type { Store } from './store.ts';

export interface Work {
  readonly store: Store;
  readonly queue: RunQueue;
}

/** Asks for everything that the states of rolls and shoots want; what already waits or runs is not asked for twice. */
export async function askForWork({ store, queue }: Work): Promise<void> {
  const rolls = await store.rolls();
  await queue.ask(rolls.flatMap(wantedBy));
  for (const [shootId, own] of Map.groupBy(rolls, (roll) => roll.shootId)) {
    // Of a thousand shoots few have changed since they last wanted nothing.
    if (own.every((roll) => content.has(roll))) continue;
    const runs = wantedShootRuns(shootId, own, await store.shootProgress(shootId));
    if (runs.length === 0) for (const roll of own) content.add(roll);
    else await queue.ask(runs);
  }
}

/** Asks for what the state of one shoot wants. */
export async function askForShoot({ store, queue }: Work, shootId: string): Promise<void> {
  await queue.ask(await wantedOfShoot(store, shootId));
}

/** What the state of a shoot wants now. */
export async function wantedOfShoot(store: Store, shootId: string): Promise<readonly RunRequest[]> {
  const rolls = (await store.rolls()).filter((roll) => roll.shootId === shootId);
  return wantedShootRuns(shootId, rolls, await store.shootProgress(shootId));
}

/** A roll that has not changed wants what it wanted, and the store gives the same object for it. */
function wantedBy(roll: Roll): readonly RunRequest[] {
  const known = wanted.get(roll) ?? wantedRuns(roll);
  wanted.set(roll, known);
  return known;
}

const content = new WeakSet<Roll>();
const wanted = new WeakMap<Roll, readonly RunRequest[]>();

import { wantedRuns, wantedShootRuns } from '@quayside/pipeline';
import type { Roll, RunRequest } from '@quayside/shoot';
import type { RunQueue } from './queue.ts';
import type { Store } from './store.ts';

export interface Work {
  readonly store: Store;
  readonly queue: RunQueue;
}

/**
 * Asks for everything that the states of rolls and shoots want; what already waits or runs is not asked for twice. Rolls that
 * sleep want nothing, but their shoots may: the first time in a process all are looked at.
 */
export async function askForWork({ store, queue }: Work): Promise<void> {
  const awake = await store.awakeRolls();
  await queue.ask(awake.flatMap(wantedBy));
  const isFirst = !looked.has(store);
  const due = new Set(awake.filter((roll) => !content.has(roll)).map((roll) => roll.shootId));
  if (due.size === 0 && !isFirst) return;
  for (const [shootId, own] of Map.groupBy(await store.rolls(), (roll) => roll.shootId)) {
    // Of a thousand shoots few have changed since they last wanted nothing.
    if (!isFirst && !due.has(shootId)) continue;
    const runs = wantedShootRuns(shootId, own, await store.shootProgress(shootId));
    await queue.ask(runs);
    if (runs.length === 0) for (const roll of awake) if (roll.shootId === shootId) content.add(roll);
  }
  looked.add(store);
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

const looked = new WeakSet<Store>();
const content = new WeakSet<Roll>();
const wanted = new WeakMap<Roll, readonly RunRequest[]>();

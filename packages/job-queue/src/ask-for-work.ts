import { maySleep, wantedRuns, wantedShootRuns } from '@quayside/pipeline';
import type { Roll, RunRequest } from '@quayside/shoot';
import type { RunQueue } from './queue.ts';
import type { Store } from './store.ts';

export interface Work {
  readonly store: Store;
  readonly queue: RunQueue;
}

/**
 * Asks for everything that the states of rolls and shoots want; what already waits or runs is not asked for twice. Rolls that
 * sleep want nothing, and neither do shoots of which all sleep.
 */
export async function askForWork({ store, queue }: Work): Promise<void> {
  const awake = await store.awakeRolls();
  await queue.ask(awake.flatMap(wantedBy));
  // Of a thousand shoots few have changed since they last wanted nothing.
  for (const shootId of new Set(awake.filter((roll) => !isContent(roll)).map((roll) => roll.shootId))) {
    const runs = await wantedOfShoot(store, shootId);
    await queue.ask(runs);
    if (runs.length === 0) for (const roll of awake) if (roll.shootId === shootId) content.set(roll, performance.now());
  }
}

/** Puts to sleep every roll that wants nothing and whose shoot wants nothing, so that later looks pass them over. */
export async function letRollsSleep(store: Store): Promise<void> {
  const isQuiet = async (roll: Roll): Promise<boolean> =>
    maySleep(roll) && (await wantedOfShoot(store, roll.shootId)).length === 0;
  for (const roll of await store.awakeRolls()) if (maySleep(roll)) await store.putToSleep(roll.id, isQuiet);
}

/** Asks for what the state of one shoot wants. */
export async function askForShoot({ store, queue }: Work, shootId: string): Promise<void> {
  await queue.ask(await wantedOfShoot(store, shootId));
}

/** What the state of a shoot wants now. */
export async function wantedOfShoot(store: Store, shootId: string): Promise<readonly RunRequest[]> {
  return wantedShootRuns(shootId, await store.rollsOfShoot(shootId), await store.shootProgress(shootId));
}

/** A roll that has not changed wants what it wanted, and the store gives the same object for it. */
function wantedBy(roll: Roll): readonly RunRequest[] {
  const known = wanted.get(roll) ?? wantedRuns(roll);
  wanted.set(roll, known);
  return known;
}

function isContent(roll: Roll): boolean {
  return performance.now() - (content.get(roll) ?? Number.NEGATIVE_INFINITY) < LOOK_AGAIN_MS;
}

/** What other processes note beside a roll does not change it: after this time its shoot is looked at again. */
const LOOK_AGAIN_MS = 30_000;
const content = new WeakMap<Roll, number>();
const wanted = new WeakMap<Roll, readonly RunRequest[]>();

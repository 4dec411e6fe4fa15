import { advance, announce, wantedRuns, type RollEvent } from '@quayside/pipeline';
import type { Instant, Roll, RunRequest } from '@quayside/shoot';
import type { RunQueue } from './queue.ts';
import type { Store } from './store.ts';

/**
 * The only way a roll changes: its state machine takes the event, listeners are told, and the work that the new state
 * wants is asked for. After a crash between the three the state stands and `askForWork` asks for its work again, but
 * listeners never hear of this change: events are no record.
 */
export async function applyRollEvent(
  { store, queue }: { readonly store: Store; readonly queue: RunQueue },
  rollId: string,
  { event, now }: { readonly event: RollEvent; readonly now: Instant },
): Promise<Roll> {
  const { before, after } = await store.changeRoll(rollId, (roll) => advance(roll, event, now));
  if (before === after) return after;
  await store.publish(announce(before, after, now));
  await queue.ask(wantedRuns(after));
  return after;
}

/** Asks for everything that the rolls' states want; what already waits or runs is not asked for twice. */
export async function askForWork({ store, queue }: { readonly store: Store; readonly queue: RunQueue }): Promise<void> {
  const rolls = await store.rolls();
  await queue.ask(rolls.flatMap(wantedBy));
}

/** A roll that has not changed wants what it wanted, and the store gives the same object for it. */
function wantedBy(roll: Roll): readonly RunRequest[] {
  const known = wanted.get(roll) ?? wantedRuns(roll);
  wanted.set(roll, known);
  return known;
}

const wanted = new WeakMap<Roll, readonly RunRequest[]>();

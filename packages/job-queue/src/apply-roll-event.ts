import {
  advance,
  announce,
  factsState,
  recordsState,
  NO_PROGRESS,
  wantedRuns,
  type RollEvent,
} from '@quayside/pipeline';
import type { Instant, Roll } from '@quayside/shoot';
import { askForShoot, type Work } from './ask-for-work.ts';

/**
 * The only way a roll changes: its state machine takes the event, listeners are told, and the work that the new state
 * wants, of the roll and of its shoot, is asked for. After a crash between the three the state stands and `askForWork` asks
 * for its work again, but listeners never hear of this change: events are no record.
 */
export async function applyRollEvent(
  { store, queue }: Work,
  rollId: string,
  { event, now }: { readonly event: RollEvent; readonly now: Instant },
): Promise<Roll> {
  const { before, after } = await store.changeRoll(rollId, (roll) => advance(roll, event, now));
  if (before === after) return after;
  await store.publish(announce(before, after, now));
  await queue.ask(wantedRuns(after));
  for (const shootId of shootsConcerned(before, after)) await askForShoot({ store, queue }, shootId);
  return after;
}

function shootsConcerned(before: Roll | null, after: Roll): ReadonlySet<string> {
  if (before !== null && before.shootId === after.shootId && stateForShoot(before) === stateForShoot(after))
    return new Set();
  return new Set([before?.shootId ?? after.shootId, after.shootId]);
}

function stateForShoot(roll: Roll): string {
  return `${factsState([roll])} ${recordsState([roll], NO_PROGRESS)}`;
}

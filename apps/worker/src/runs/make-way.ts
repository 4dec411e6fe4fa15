import { setTimeout as wait } from 'node:timers/promises';
import type { Store } from '@quayside/job-queue';
import { isBeingTakenIn } from '@quayside/pipeline';
import { QuaysideError } from '@quayside/shoot';

/** How often it is looked whether a drive has come, in milliseconds: so long it may have to share its destinations. */
const LOOK_MS = 500;

/**
 * Does work of low priority unless footage is being taken in, and breaks it off when that begins. Work that was not begun or was
 * broken off counts as made: the roll's state goes on wanting it, so it is asked for again, and goes on where it stood.
 */
export async function makeWay(
  store: Store,
  signal: AbortSignal,
  work: (signal: AbortSignal) => Promise<void>,
): Promise<void> {
  if (await isIntakeUnderWay(store)) return;
  const breaking = new AbortController();
  const done = new AbortController();
  const watching = watchForIntake(store, { breaking, done: done.signal });
  try {
    await work(AbortSignal.any([signal, breaking.signal]));
  } catch (error) {
    if (!breaking.signal.aborted || signal.aborted) throw error;
  } finally {
    done.abort();
    await watching;
  }
}

/** Whether any drive is being taken in now. */
export async function isIntakeUnderWay(store: Store): Promise<boolean> {
  return (await store.awakeRolls()).some(isBeingTakenIn);
}

async function watchForIntake(
  store: Store,
  { breaking, done }: { readonly breaking: AbortController; readonly done: AbortSignal },
): Promise<void> {
  while (!done.aborted) {
    await wait(LOOK_MS, undefined, { signal: done }).catch(() => {});
    if (done.aborted) return;
    // With Redis away nobody knows; whatever is taken in waits for it as well.
    const isUnderWay = await isIntakeUnderWay(store).catch(() => false);
    if (isUnderWay) return breaking.abort(madeWay());
  }
}

function madeWay(): QuaysideError {
  return new QuaysideError({
    code: 'MADE_WAY',
    sentence: 'A drive is being taken in, so the reading again of what is kept waits. It goes on by itself.',
    retry: 'later',
  });
}

import { setTimeout as wait } from 'node:timers/promises';
import type { Store } from '@quayside/job-queue';
import { workerBeat } from './worker-beat.ts';

const BEAT_MS = 2000;

/** Shows every two seconds that the worker lives, whatever else it is busy with, until the signal aborts. */
export async function keepBeating(store: Store, signal: AbortSignal): Promise<void> {
  while (!signal.aborted) {
    await store.beat('worker', BEAT_MS * 3, workerBeat()).catch(() => {});
    await wait(BEAT_MS, undefined, { signal }).catch(() => {});
  }
}

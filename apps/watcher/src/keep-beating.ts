import { setTimeout as wait } from 'node:timers/promises';
import type { Store } from '@quayside/job-queue';

const BEAT_MS = 2000;

/** Shows every two seconds that the watcher lives, until the signal aborts. Redis being away is told by the API. */
export async function keepBeating(store: Store, signal: AbortSignal): Promise<void> {
  while (!signal.aborted) {
    await store.beat('watcher', BEAT_MS * 3, String(process.pid)).catch(() => {});
    await wait(BEAT_MS, undefined, { signal }).catch(() => {});
  }
}

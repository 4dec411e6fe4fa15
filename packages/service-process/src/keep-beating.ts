import { setTimeout as wait } from 'node:timers/promises';

const BEAT_MS = 2000;

/**
 * Shows every two seconds that a process lives, whatever else it is busy with, until the signal aborts. `beat` is told how
 * long a beat stands for; that it fails, say because Redis is away, is told elsewhere.
 */
export async function keepBeating(beat: (ttlMs: number) => Promise<void>, signal: AbortSignal): Promise<void> {
  while (!signal.aborted) {
    await beat(BEAT_MS * 3).catch(() => undefined);
    await wait(BEAT_MS, undefined, { signal }).catch(() => undefined);
  }
}

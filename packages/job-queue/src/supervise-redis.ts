import { setTimeout as pause } from 'node:timers/promises';
import { type Failure, failureOf } from '@quayside/shoot';
import type { RedisAddress } from './redis-address.ts';
import { type RunningRedis, startRedis, type StartRedisOptions } from './start-redis.ts';

export type RedisChange =
  | { readonly kind: 'ended'; readonly code: number | null }
  | { readonly kind: 'started'; readonly pid: number }
  | { readonly kind: 'failed'; readonly failure: Failure };

export interface SupervisedRedis {
  /** Stays the same over restarts. */
  readonly address: RedisAddress;
  /** The process that serves now, or served last. */
  pid(): number;
  /** Ends Redis and the watch over it. */
  stop(): Promise<void>;
}

const FIRST_PAUSE_MS = 100;
const LONGEST_PAUSE_MS = 5000;
const CALM_MS = 60_000;

/**
 * Starts Redis and, whenever it ends, starts it again after a pause that grows from 100 ms to 5 s and shrinks back once it
 * has run for a minute. Never gives up. Each change after the first start is told to `report`.
 * @throws what `startRedis` throws, for the first start only.
 */
export async function superviseRedis(
  options: StartRedisOptions & { readonly report: (change: RedisChange) => void },
): Promise<SupervisedRedis> {
  const over = new AbortController();
  let current = await startRedis(options);
  const { address } = current;
  const watch = keepRunning();
  return {
    address,
    pid: () => current.pid,
    async stop() {
      over.abort();
      await current.stop();
      await watch;
      // The watch may have been in the middle of a start.
      await current.stop();
    },
  };

  async function keepRunning(): Promise<void> {
    let pauseMs = FIRST_PAUSE_MS;
    for (;;) {
      const startedAt = performance.now();
      const code = await current.exited;
      if (over.signal.aborted) return;
      options.report({ kind: 'ended', code });
      if (performance.now() - startedAt > CALM_MS) pauseMs = FIRST_PAUSE_MS;
      let next: RunningRedis | null = null;
      while (next === null) {
        await pause(pauseMs, undefined, { signal: over.signal }).catch(() => undefined);
        if (over.signal.aborted) return;
        pauseMs = Math.min(pauseMs * 2, LONGEST_PAUSE_MS);
        next = await startAgain();
      }
      current = next;
      if (over.signal.aborted) return;
    }
  }

  async function startAgain(): Promise<RunningRedis | null> {
    try {
      const started = await startRedis(options);
      options.report({ kind: 'started', pid: started.pid });
      return started;
    } catch (error) {
      options.report({ kind: 'failed', failure: failureOf(error) });
      return null;
    }
  }
}

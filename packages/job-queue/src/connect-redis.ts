import { setTimeout as pause } from 'node:timers/promises';
import { Redis, type RedisOptions } from 'ioredis';
import type { RedisAddress } from './redis-address.ts';
import { unreachable } from './redis-failure.ts';
import type { ThinnedLog } from './thinned-log.ts';

export interface ConnectOptions {
  /**
   * `fails-fast`: a command fails at once while there is no connection, and after 5 s without an answer. `waits`: a command
   * waits for the connection without limit, which only a queue worker wants.
   */
  readonly manner: 'fails-fast' | 'waits';
  readonly log: ThinnedLog;
}

const ANSWER_WITHIN_MS = 5000;

/**
 * Connects and waits until Redis answers, also while it loads its data. The connection comes back by itself after a loss.
 * The caller closes it with `disconnect()`.
 * @throws QuaysideError `REDIS_UNREACHABLE` when there was no answer within `withinMs`; never hangs.
 */
export async function connectRedis(address: RedisAddress, withinMs: number, options: ConnectOptions): Promise<Redis> {
  const redis = createConnection(address, options);
  let lastError: unknown;
  redis.on('error', (error: unknown) => {
    lastError = error;
  });
  const overdue = new AbortController();
  const isReady = await Promise.race([
    untilReady(redis).then(() => true),
    pause(withinMs, false, { signal: overdue.signal }),
  ]);
  overdue.abort();
  if (isReady) return redis;
  redis.disconnect();
  const why = lastError instanceof Error ? lastError.message : 'no answer';
  throw unreachable(address, `${why || 'no answer'} (waited ${withinMs} ms)`, lastError);
}

/** Settles when Redis answers and has its data loaded. Not `events.once`: that gives up at the first failed try. */
export function untilReady(redis: Redis): Promise<void> {
  return new Promise((resolve) => {
    redis.once('ready', resolve);
  });
}

/** Makes a connection that keeps trying until `disconnect()`, without waiting for it. */
export function createConnection(address: RedisAddress, { manner, log }: ConnectOptions): Redis {
  const settings = { ...SETTINGS, ...(manner === 'waits' ? WAITING : FAILING_FAST) };
  const redis =
    address.kind === 'socket' ? new Redis({ ...settings, path: address.path }) : new Redis(address.url, settings);
  // Without a listener ioredis writes every failed try to the console.
  redis.on('error', (error: Error) => log('connection', `The connection to Redis failed: ${error.message}.`));
  return redis;
}

const SETTINGS = {
  retryStrategy: (times) => Math.min(20 * 2 ** Math.min(times, 10), 1000),
  connectTimeout: ANSWER_WITHIN_MS,
  maxLoadingRetryTime: 200,
} satisfies RedisOptions;

const WAITING = { maxRetriesPerRequest: null } satisfies RedisOptions;

const FAILING_FAST = {
  enableOfflineQueue: false,
  // 0, not 1: what was under way when the connection broke fails at that moment. A resent XADD would add its event twice.
  maxRetriesPerRequest: 0,
  commandTimeout: ANSWER_WITHIN_MS,
} satisfies RedisOptions;

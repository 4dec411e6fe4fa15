import { setTimeout as pause } from 'node:timers/promises';
import type { StreamedEvent } from '@quayside/shoot';
import type { Redis } from 'ioredis';
import { createConnection, untilReady } from './connect-redis.ts';
import { redisFailure } from './redis-failure.ts';
import { type Entry, lastEventId, parseEntries } from './stream-entries.ts';
import type { View } from './view.ts';

// Shorter than a connection's time limit for an answer, so that a quiet stream is not taken for a dead server.
const BLOCK_MS = 3000;
const RETRY_MS = 100;

/**
 * Yields the events after `start` (null: from the newest, once Redis can tell it) on a connection of its own, which a
 * blocking read needs. While Redis is away it waits, then goes on after the last event. Ends when the signal aborts.
 */
export async function* followEvents(
  view: View,
  start: Promise<string | null>,
  signal: AbortSignal,
): AsyncGenerator<StreamedEvent, void, undefined> {
  if (signal.aborted) return;
  const redis = createConnection(view.address, { manner: 'fails-fast', log: view.log });
  const { promise: over, resolve: endWaiting } = Promise.withResolvers<void>();
  const disconnect = (): void => {
    redis.disconnect();
    endWaiting();
  };
  signal.addEventListener('abort', disconnect, { once: true });
  try {
    let last = await start;
    while (!isOver(signal)) {
      // A read on a connection that is still being made would fail, and tell of trouble where there is none.
      if (redis.status !== 'ready') await Promise.race([untilReady(redis), over]);
      last ??= await lastEventId(view).catch(() => null);
      const entries = last === null ? null : await readAfter(view, redis, { last, signal });
      if (entries === null) await pause(RETRY_MS, undefined, { signal }).catch(() => undefined);
      else {
        for (const event of parseEntries(view, entries)) {
          if (isOver(signal)) return;
          yield event;
        }
        last = entries.at(-1)?.[0] ?? last;
      }
    }
  } finally {
    signal.removeEventListener('abort', disconnect);
    redis.disconnect();
  }
}

async function readAfter(
  view: View,
  redis: Redis,
  { last, signal }: { readonly last: string; readonly signal: AbortSignal },
): Promise<readonly Entry[] | null> {
  try {
    const streams = await redis.xread('COUNT', 500, 'BLOCK', BLOCK_MS, 'STREAMS', view.key('events'), last);
    return streams?.[0]?.[1] ?? [];
  } catch (error) {
    // The listener has left, which is why the connection was closed: no trouble.
    if (isOver(signal)) return null;
    view.log('follow', `Following the events is interrupted. ${redisFailure(error, view.address).message}`);
    // A connection that looks alive and gives no answer is dead: only a new one can help.
    if (error instanceof Error && error.message === 'Command timed out') redis.disconnect(true);
    return null;
  }
}

// A function, because the compiler takes `signal.aborted` for settled after the first look at it.
function isOver(signal: AbortSignal): boolean {
  return signal.aborted;
}

import { setTimeout as pause } from 'node:timers/promises';
import type { Queue } from 'bullmq';
import type { Redis } from 'ioredis';
import type { QueuePlace } from './queue-place.ts';
import { redisFailure, unreachable } from './redis-failure.ts';

/**
 * BullMQ's queue on a connection that the caller keeps and closes. Its library takes 10 MB and an eighth of a second, so a
 * process that asks for no run should not come here.
 * @throws QuaysideError `REDIS_UNREACHABLE` when Redis does not answer in time; never hangs.
 */
export async function openBullQueue(connection: Redis, place: QueuePlace): Promise<Queue> {
  const { Queue: BullQueue } = await import('bullmq');
  // Asked before BullMQ is: its own wait for a Redis that is not there has no end.
  await connection.ping().catch((error: unknown) => {
    throw redisFailure(error, place.address);
  });
  const queue = new BullQueue(place.name, { connection, prefix: place.prefix });
  queue.on('error', (error) => place.log('queue', `The queue had trouble with Redis: ${error.message}.`));
  const overdue = new AbortController();
  try {
    await Promise.race([queue.waitUntilReady(), giveUp(place, overdue.signal)]);
    return queue;
  } catch (error) {
    void queue.close().catch(() => undefined);
    throw redisFailure(error, place.address);
  } finally {
    overdue.abort();
  }
}

async function giveUp({ address, connectWithinMs }: QueuePlace, signal: AbortSignal): Promise<never> {
  await pause(connectWithinMs, undefined, { signal });
  throw unreachable(address, `no answer (waited ${connectWithinMs} ms)`);
}

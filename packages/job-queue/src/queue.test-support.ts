import { setTimeout as pause } from 'node:timers/promises';
import { type Failure, QuaysideError, type Remedy } from '@quayside/shoot';
import { onTestFinished } from 'vitest';
import { openQueue, type QueueOptions } from './open-queue.ts';
import type { RunHandler, RunQueue } from './queue.ts';
import type { TestRedis } from './redis-server.test-support.ts';

export const QUICK = { firstPauseMs: 10 };

/** A queue that is closed when the test is over. */
export async function testQueue(redis: TestRedis, options: QueueOptions = { rules: QUICK }): Promise<RunQueue> {
  const queue = await openQueue(redis.address, options);
  onTestFinished(() => queue.close());
  return queue;
}

/** Waits until it holds; the test's own time limit ends it. */
export async function eventually(holds: () => boolean | Promise<boolean>): Promise<void> {
  while (!(await holds())) await pause(10);
}

/** True when the queue holds no run in any state. */
export async function isQuiet(queue: RunQueue): Promise<boolean> {
  const { waiting, active, delayed } = await queue.counts();
  return waiting + active + delayed === 0;
}

export interface Recorder {
  readonly handler: RunHandler;
  readonly started: string[];
  readonly failures: Failure[];
}

/** A handler that notes what it is given; `run` is what its runs do. */
export function recorder(run: RunHandler['run'] = async () => undefined): Recorder {
  const started: string[] = [];
  const failures: Failure[] = [];
  const handler: RunHandler = {
    async run(request, signal) {
      started.push(request.id);
      await run(request, signal);
    },
    async failed(_, failure) {
      failures.push(failure);
    },
  };
  return { handler, started, failures };
}

/** Rejects with the reason of the abort. */
export function untilAborted(signal: AbortSignal): Promise<never> {
  return new Promise((_, reject) => {
    signal.addEventListener('abort', () => reject(signal.reason as Error), { once: true });
  });
}

/** Throws a failure of the given kind. */
export function fail(retry: Remedy): never {
  throw new QuaysideError({ code: 'KILN_COLD', sentence: 'The kiln is cold. Heat it.', retry });
}

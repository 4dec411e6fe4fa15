import { setTimeout as pause } from 'node:timers/promises';
import { type Job, Worker } from 'bullmq';
import { connectRedis } from './connect-redis.ts';
import { makeRun, type RunContext } from './make-run.ts';
import { watchOpenJobs } from './open-jobs.ts';
import type { QueuePlace } from './queue-place.ts';
import type { QueueWorker, RunHandler } from './queue.ts';

export interface RunningWorker extends QueueWorker {
  /** Aborts the runs under way and goes on taking new ones. */
  abortRuns(): void;
}

/** Starts taking runs. @throws QuaysideError `REDIS_UNREACHABLE` when Redis does not answer in time. */
export async function startWorker(
  place: QueuePlace,
  handler: RunHandler,
  { concurrency }: { readonly concurrency: number },
): Promise<RunningWorker> {
  const { rules, log } = place;
  const redis = await connectRedis(place.address, place.connectWithinMs, { manner: 'waits', log });
  let isStopping = false;
  const context: RunContext = { handler, rules, log, isStopping: () => isStopping };
  const worker: Worker = new Worker(
    place.name,
    // Literally three parameters: BullMQ hands over the signal only when it counts that many.
    async (job: Job, token, signal) => openJobs.track(job, () => makeRun({ job, token, signal }, context)),
    {
      connection: redis,
      prefix: place.prefix,
      concurrency,
      lockDuration: rules.lockMs,
      stalledInterval: rules.stalledCheckMs,
      // Above our own limit, which `makeRun` watches: BullMQ would drop the run without a word to the handler.
      maxStalledCount: rules.crashes + 1_000_000,
    },
  );
  const openJobs = watchOpenJobs(worker);
  worker.on('error', (error) => log('worker', `The worker had trouble with its queue: ${error.message}.`));
  worker.on('lockRenewalFailed', (ids: string[]) => {
    for (const id of ids) worker.cancelJob(id, 'its lock was lost');
  });
  return {
    abortRuns: () => worker.cancelAllJobs('the queue was cleared'),
    async stop(graceMs) {
      isStopping = true;
      await worker.pause(true);
      worker.cancelAllJobs('the worker stops');
      const overdue = new AbortController();
      await Promise.race([openJobs.untilNone(), pause(graceMs, undefined, { signal: overdue.signal })]);
      overdue.abort();
      await worker.close(true);
      redis.disconnect();
    },
  };
}

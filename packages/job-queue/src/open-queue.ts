import type { RunRequest } from '@quayside/shoot';
import type { Queue } from 'bullmq';
import { batchesOf } from './batches-of.ts';
import { connectRedis } from './connect-redis.ts';
import { openBullQueue } from './open-bull-queue.ts';
import { QUEUE_NAME, type QueuePlace } from './queue-place.ts';
import type { RunQueue } from './queue.ts';
import type { RedisAddress } from './redis-address.ts';
import { redisFailure } from './redis-failure.ts';
import { DEFAULT_RULES, type RunRules } from './run-rules.ts';
import type { RunningWorker } from './start-worker.ts';
import { type Log, thinnedLog } from './thinned-log.ts';

export interface QueueOptions {
  /** What all its keys start with; `quayside` by default. It may be the store's. */
  readonly prefix?: string;
  /** Which of several queues beside each other; that of the pipeline's runs by default. Letters, digits and hyphens. */
  readonly name?: string;
  /** How long Redis may take to answer at first; 5000 by default. */
  readonly connectWithinMs?: number;
  /** Told of trouble, thinned out to one line a minute for each kind. */
  readonly log?: Log;
  readonly rules?: Partial<RunRules>;
}

/**
 * Opens the queue of runs. The caller closes it.
 * @throws QuaysideError `REDIS_UNREACHABLE` when Redis does not answer in time; never hangs.
 */
export async function openQueue(address: RedisAddress, options: QueueOptions = {}): Promise<RunQueue> {
  const { prefix = 'quayside', name = QUEUE_NAME, connectWithinMs = 5000 } = options;
  const rules = { ...DEFAULT_RULES, ...options.rules };
  const log = thinnedLog(options.log);
  const place: QueuePlace = { address, prefix, name, connectWithinMs, rules, log };
  // Connected before BullMQ sees it: its own wait for a Redis that is not there has no end.
  const redis = await connectRedis(address, connectWithinMs, { manner: 'fails-fast', log });
  let opened: Promise<Queue> | null = null;
  const queue = (): Promise<Queue> => {
    opened ??= openBullQueue(redis, place).catch((error: unknown) => {
      opened = null;
      throw error;
    });
    return opened;
  };
  const workers = new Set<RunningWorker>();
  const ask = async <Answer>(commands: Promise<Answer>): Promise<Answer> => {
    try {
      return await commands;
    } catch (error) {
      throw redisFailure(error, address);
    }
  };
  return {
    async ask(runs) {
      for (const batch of batchesOf(runs, 500)) {
        const jobs = batch.map((run) => jobFor(run, rules));
        await ask((await queue()).addBulk(jobs));
      }
    },
    async clear() {
      const jobs = await queue();
      for (const worker of workers) worker.abortRuns();
      // In the same breath: an aborted run that puts itself back in between would outlive the clearing.
      await ask(jobs.obliterate({ force: true }));
    },
    async counts() {
      const jobs = await queue();
      const counts = await ask(jobs.getJobCounts('waiting', 'prioritized', 'active', 'delayed'));
      const { waiting = 0, prioritized = 0, active = 0, delayed = 0 } = counts;
      return { waiting: waiting + prioritized, active, delayed };
    },
    async work(handler, workOptions) {
      // A clear that was cut off leaves the queue paused, for ever if nobody clears again.
      await ask((await queue()).resume());
      const { startWorker } = await import('./start-worker.ts');
      const worker = await startWorker(place, handler, workOptions);
      workers.add(worker);
      return {
        async stop(graceMs) {
          workers.delete(worker);
          await worker.stop(graceMs);
        },
      };
    },
    async close() {
      await Promise.all([...workers].map((worker) => worker.stop(0)));
      workers.clear();
      await (await opened)?.close();
      redis.disconnect();
    },
  };
}

function jobFor(run: RunRequest, rules: RunRules): Parameters<Queue['addBulk']>[0][number] {
  return {
    name: run.step,
    data: run,
    opts: {
      // The prefix keeps an id of digits only from being one: BullMQ refuses those.
      jobId: `run-${run.id}`,
      attempts: rules.attempts,
      backoff: { type: 'exponential', delay: rules.firstPauseMs },
      // Those without a priority go first, so that short work never waits behind that which moves bytes. What is written is
      // read back before more is written: a take is usable the sooner.
      ...(PRIORITIES[run.step] === undefined ? {} : { priority: PRIORITIES[run.step] }),
      // Gone at once, so that the same run may be asked for again.
      removeOnComplete: true,
      removeOnFail: true,
      stackTraceLimit: 1,
    },
  };
}

/** 1 goes first. What is read again long after it was proven goes behind everything (BullMQ's largest is 2,097,151). */
const PRIORITIES: Readonly<Record<string, number>> = { checksum: 1, ingest: 2, recopy: 2, reread: 2_097_151 };

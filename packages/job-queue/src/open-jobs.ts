import { DelayedError, type Job, WaitingError, type Worker } from 'bullmq';

/** The jobs that a worker has taken and not yet written off in Redis. */
export interface OpenJobs {
  /** Runs a try at a job and counts the job as open until its outcome is written. */
  track(job: Job, attempt: () => Promise<void>): Promise<void>;
  /** Settles when no job is open. */
  untilNone(): Promise<void>;
}

/**
 * Watches which jobs of a worker are open. BullMQ's own waiting for them (`pause`, `close` without force) reconnects or
 * hangs while Redis is away, so we count ourselves and then close by force.
 */
export function watchOpenJobs(worker: Pick<Worker, 'on'>): OpenJobs {
  const open = new Set<Job>();
  const waiting = new Set<() => void>();
  const settle = (job: Job | undefined): void => {
    if (job !== undefined) open.delete(job);
    if (open.size > 0) return;
    for (const resolve of waiting) resolve();
    waiting.clear();
  };
  worker.on('completed', settle);
  worker.on('failed', settle);
  return {
    async track(job, attempt) {
      open.add(job);
      try {
        await attempt();
      } catch (error) {
        // Put back already, so BullMQ says nothing more about it.
        if (error instanceof WaitingError || error instanceof DelayedError) settle(job);
        throw error;
      }
    },
    async untilNone() {
      if (open.size > 0) await new Promise<void>((resolve) => waiting.add(resolve));
    },
  };
}

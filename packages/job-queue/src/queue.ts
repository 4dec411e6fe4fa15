import type { Failure, RunRequest } from '@quayside/shoot';

/**
 * Runs to be made, on BullMQ. The queue is disposable: what should run follows from the rolls' states, so it can be
 * emptied and filled again at any time.
 */
export interface RunQueue {
  /** Asks for runs. A run whose id already waits or runs is not asked for twice; one that has ended may be asked for again. */
  ask(runs: readonly RunRequest[]): Promise<void>;
  /** Drops everything, also what seems to be running: for a start when no other worker is alive. */
  clear(): Promise<void>;
  counts(): Promise<{ readonly waiting: number; readonly active: number; readonly delayed: number }>;
  /** Starts taking runs, at most `concurrency` at once. */
  work(handler: RunHandler, options: { readonly concurrency: number }): Promise<QueueWorker>;
  close(): Promise<void>;
}

export interface RunHandler {
  /** Makes the run. Throwing a failure with `retry: 'later'` makes it wait and run again, up to a limit. */
  run(run: RunRequest, signal: AbortSignal): Promise<void>;
  /** Called once when a run failed for good: hopeless, or its tries used up, or its volume or destination away. */
  failed(run: RunRequest, failure: Failure): Promise<void>;
}

export interface QueueWorker {
  /** Stops taking runs, aborts the running ones, and waits at most `graceMs` for them. */
  stop(graceMs: number): Promise<void>;
}

import type { Failure, RunRequest } from '@quayside/shoot';

/**
 * Runs to be made, on BullMQ. The queue is disposable: what should run follows from the rolls' states, so it can be
 * emptied and filled again at any time. A run is made at least once; in bad moments (a lost lock, Redis away for minutes)
 * it is made twice, even at the same time.
 *
 * While Redis does not answer, every call fails within 5 seconds with `REDIS_UNREACHABLE`, and works again by itself later.
 */
export interface RunQueue {
  /**
   * Asks for runs. A run whose id already waits, rests before another try, or runs, is not asked for twice; one that has
   * ended may be asked for again. After a failure some of them may have been asked for: ask again for all.
   */
  ask(runs: readonly RunRequest[]): Promise<void>;
  /**
   * Drops everything, also what seems to be running: for a start when no other worker is alive. Runs of this process that
   * are still under way are aborted; how they end is then of no account.
   */
  clear(): Promise<void>;
  counts(): Promise<{ readonly waiting: number; readonly active: number; readonly delayed: number }>;
  /** Starts taking runs, at most `concurrency` at once. */
  work(handler: RunHandler, options: { readonly concurrency: number }): Promise<QueueWorker>;
  /** Stops the workers at once, as `stop(0)` does, and lets go of Redis. */
  close(): Promise<void>;
}

export interface RunHandler {
  /**
   * Makes the run. Throwing a failure with `retry: 'later'` makes it wait and run again, up to a limit. Once the signal is
   * aborted, throwing uses up no try: when the worker stops, the run waits for the next one.
   */
  run(run: RunRequest, signal: AbortSignal): Promise<void>;
  /**
   * Called when a run failed for good: hopeless, or its tries used up, or its volume or destination away, or it brought
   * its worker down again and again (`RUN_KEEPS_CRASHING`). Called before the run is given up: when this throws, or the
   * process dies in it, the run is made again later and this called again, so it must bear that.
   */
  failed(run: RunRequest, failure: Failure): Promise<void>;
}

export interface QueueWorker {
  /** Stops taking runs, aborts the running ones, and waits at most `graceMs` for them. */
  stop(graceMs: number): Promise<void>;
}

/** How runs are tried again and held. A service keeps the defaults; tests shorten them. */
export interface RunRules {
  /** How often a run is tried that fails with `retry: 'later'`, the first time included. */
  readonly attempts: number;
  /** The pause before the second try; each further one is twice as long. */
  readonly firstPauseMs: number;
  /**
   * How long a run stays ours without a sign of life. Long, since a blocked event loop or a clock that steps back must not
   * start a second one beside it; the price is that the runs of a worker that was killed wait that long, unless the next
   * start clears the queue.
   */
  readonly lockMs: number;
  /** How often workers look for runs whose holder has died. */
  readonly stalledCheckMs: number;
  /** How often a run may lose its worker before it is given up. */
  readonly crashes: number;
}

export const DEFAULT_RULES: RunRules = {
  attempts: 5,
  firstPauseMs: 1000,
  lockMs: 120_000,
  stalledCheckMs: 60_000,
  crashes: 20,
};

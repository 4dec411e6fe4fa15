/** Processes that belong together: what was started inside, and whatever those start, also in sessions of their own. */
export interface ProcessGroup extends AsyncDisposable {
  /** Starts something inside the group. */
  enter<Value>(start: () => Promise<Value>): Promise<Value>;
  /** Those that run now. */
  pids(): Promise<readonly number[]>;
  /** Seconds of processor time, user and system, of all together: those that have ended count too. */
  coreSeconds(): Promise<number>;
}

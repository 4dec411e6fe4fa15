/** How long a run that failed for good is left alone before the state that wants it may have it made again. */
const REST_MS = 5 * 60_000;

/**
 * Runs over shoots that failed for good a short while ago. A shoot's state goes on wanting them, and without a rest one that
 * cannot succeed, say for want of a destination, would be tried every few seconds.
 */
export class RestingRuns {
  readonly #until = new Map<string, number>();

  rest(runId: string): void {
    this.#until.set(runId, performance.now() + REST_MS);
  }

  isResting(runId: string): boolean {
    const until = this.#until.get(runId);
    if (until === undefined) return false;
    if (performance.now() < until) return true;
    this.#until.delete(runId);
    return false;
  }
}

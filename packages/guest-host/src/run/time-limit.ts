/** A limit of time that stands still while its work is held up. */
export class TimeLimit {
  #leftMs: number;
  #heldUpMs = 0;
  /** Since when it runs, or is held up. */
  #since = performance.now();
  #timer: NodeJS.Timeout | undefined;
  readonly #onPassed: () => void;

  constructor(limitMs: number, onPassed: () => void) {
    this.#leftMs = limitMs;
    this.#onPassed = onPassed;
    this.#run();
  }

  pause(): void {
    if (this.#timer === undefined) return;
    this.#leftMs -= this.#lap();
    clearTimeout(this.#timer);
    this.#timer = undefined;
  }

  resume(): void {
    if (this.#timer !== undefined) return;
    this.#heldUpMs += this.#lap();
    this.#run();
  }

  /** Ends it, and says for how long, in milliseconds, it was held up. */
  end(): number {
    this.resume();
    clearTimeout(this.#timer);
    return this.#heldUpMs;
  }

  #run(): void {
    this.#timer = setTimeout(this.#onPassed, Math.max(0, this.#leftMs));
  }

  #lap(): number {
    const [before, now] = [this.#since, performance.now()];
    this.#since = now;
    return now - before;
  }
}

/** Lets at most so many at once have their turn, in the order in which they ask. */
export class Turns {
  #free: number;
  readonly #waiting: (() => void)[] = [];

  constructor(count: number) {
    this.#free = count;
  }

  async take<Result>(work: () => Promise<Result>): Promise<Result> {
    if (this.#free > 0) this.#free -= 1;
    else await new Promise<void>((resolve) => void this.#waiting.push(resolve));
    try {
      return await work();
    } finally {
      const next = this.#waiting.shift();
      if (next === undefined) this.#free += 1;
      else next();
    }
  }
}

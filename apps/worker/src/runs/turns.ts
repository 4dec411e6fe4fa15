/** Lets work of one name go one after the other, in the order it came; work without a name goes at once. */
export class Turns {
  readonly #last = new Map<string, Promise<void>>();

  async take<Result>(name: string | null, work: () => Promise<Result>): Promise<Result> {
    if (name === null) return work();
    const before = this.#last.get(name) ?? Promise.resolve();
    const mine = before.then(work);
    const settled = mine.then(ignore, ignore);
    this.#last.set(name, settled);
    try {
      return await mine;
    } finally {
      if (this.#last.get(name) === settled) this.#last.delete(name);
    }
  }
}

function ignore(): void {}

/**
 * Lets runs of one roll go side by side, except a move: it waits for those under way and keeps later ones out, since it
 * changes the folder that they work in.
 */
export class RollGate {
  readonly #sharing = new Map<string, Set<Promise<void>>>();
  readonly #moving = new Map<string, Promise<unknown>>();

  async run<Result>(rollId: string, isExclusive: boolean, work: () => Promise<Result>): Promise<Result> {
    while (this.#moving.has(rollId)) await this.#moving.get(rollId);
    return isExclusive ? this.#runAlone(rollId, work) : this.#runShared(rollId, work);
  }

  async #runShared<Result>(rollId: string, work: () => Promise<Result>): Promise<Result> {
    const running = work();
    const settled = running.then(ignore, ignore);
    const sharing = this.#sharing.get(rollId) ?? new Set();
    this.#sharing.set(rollId, sharing.add(settled));
    try {
      return await running;
    } finally {
      sharing.delete(settled);
      if (sharing.size === 0 && this.#sharing.get(rollId) === sharing) this.#sharing.delete(rollId);
    }
  }

  async #runAlone<Result>(rollId: string, work: () => Promise<Result>): Promise<Result> {
    const running = Promise.all(this.#sharing.get(rollId) ?? new Set<Promise<void>>()).then(work);
    const settled = running.then(ignore, ignore);
    this.#moving.set(rollId, settled);
    try {
      return await running;
    } finally {
      this.#moving.delete(rollId);
    }
  }
}

function ignore(): void {}

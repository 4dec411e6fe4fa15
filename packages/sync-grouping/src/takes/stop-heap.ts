/** A queue whose first is always the one with the smallest `stop`. */
export class StopHeap<Entry extends { readonly stop: number }> {
  readonly #entries: Entry[] = [];

  get size(): number {
    return this.#entries.length;
  }

  /** All entries, in no order. */
  entries(): readonly Entry[] {
    return this.#entries;
  }

  push(entry: Entry): void {
    const entries = this.#entries;
    let at = entries.push(entry) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      const parent = entries[above];
      if (parent === undefined || parent.stop <= entry.stop) break;
      entries[at] = parent;
      at = above;
    }
    entries[at] = entry;
  }

  /** Takes off and gives the first entry if its `stop` is not after `time`. */
  popUpTo(time: number): Entry | undefined {
    const [first] = this.#entries;
    if (first === undefined || first.stop > time) return undefined;
    const last = this.#entries.pop();
    if (last !== undefined && this.#entries.length > 0) this.#sink(last);
    return first;
  }

  #sink(entry: Entry): void {
    const entries = this.#entries;
    let at = 0;
    for (;;) {
      const left = 2 * at + 1;
      const right = entries[left + 1];
      const child = right !== undefined && right.stop < (entries[left]?.stop ?? Infinity) ? left + 1 : left;
      const below = entries[child];
      if (below === undefined || below.stop >= entry.stop) break;
      entries[at] = below;
      at = child;
    }
    entries[at] = entry;
  }
}

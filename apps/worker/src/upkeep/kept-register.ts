import type { Store } from '@quayside/job-queue';
import { keptCopies, type KeptCopy } from '@quayside/pipeline';

/** After so many rolls their garbage is collected: a process that rests afterwards would keep what they took, 60 MB of a thousand. */
const MANY = 100;

/**
 * What there is to be kept true, of all rolls. Of a thousand rolls only those that have changed since the last look are read, one
 * after the other, and none is held: an idle service shall not be large for what is due in days.
 */
export class KeptRegister {
  readonly #store: Pick<Store, 'rollVersions' | 'roll'>;
  readonly #known = new Map<string, { readonly version: string; readonly copies: readonly KeptCopy[] }>();

  constructor(store: Pick<Store, 'rollVersions' | 'roll'>) {
    this.#store = store;
  }

  async copies(): Promise<readonly KeptCopy[]> {
    const versions = await this.#store.rollVersions();
    for (const id of this.#known.keys()) if (!versions.has(id)) this.#known.delete(id);
    let readCount = 0;
    for (const [id, version] of versions) {
      if (this.#known.get(id)?.version === version) continue;
      // One that changes in between is noted under the version before, and so read again the next time.
      const roll = await this.#store.roll(id);
      readCount += 1;
      if (readCount % MANY === 0) globalThis.gc?.();
      this.#known.set(id, { version, copies: roll === null ? [] : keptCopies([roll]) });
    }
    return [...this.#known.values()].flatMap(({ copies }) => copies);
  }
}

import type { HashAlgorithm } from '@quayside/shoot';
import { createHasher, createSteppingHasher, type Hasher, type SteppingHasher } from './create-hasher.ts';

/** Hashers kept for the next file: making one costs more than hashing a small file. */
export interface HasherShelf {
  /** Lends a fresh hasher for the length of `use`. */
  lend<Value>(algorithms: readonly HashAlgorithm[], use: (hasher: Hasher) => Promise<Value>): Promise<Value>;
  /** Lends so many fresh ones that can go back. */
  lendStepping<Value>(
    count: number,
    algorithms: readonly HashAlgorithm[],
    use: (hashers: readonly SteppingHasher[]) => Promise<Value>,
  ): Promise<Value>;
}

export function createHasherShelf(): HasherShelf {
  const plain = shelfOf(createHasher);
  const stepping = shelfOf(createSteppingHasher);
  return {
    lend: plain,
    lendStepping: (count, algorithms, use) => {
      const lend = (lent: readonly SteppingHasher[]): ReturnType<typeof use> =>
        lent.length === count ? use(lent) : stepping(algorithms, (hasher) => lend([...lent, hasher]));
      return lend([]);
    },
  };
}

type Lend<Kind> = <Value>(
  algorithms: readonly HashAlgorithm[],
  use: (hasher: Kind) => Promise<Value>,
) => Promise<Value>;

function shelfOf<Kind extends Hasher>(make: (algorithms: readonly HashAlgorithm[]) => Promise<Kind>): Lend<Kind> {
  const free = new Map<string, Kind[]>();
  return async (algorithms, use) => {
    const key = [...algorithms].toSorted().join(' ');
    const shelf = free.get(key) ?? [];
    free.set(key, shelf);
    const hasher = shelf.pop() ?? (await make(algorithms));
    try {
      return await use(hasher);
    } finally {
      hasher.reset();
      shelf.push(hasher);
    }
  };
}

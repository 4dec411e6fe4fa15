import type { HashAlgorithm } from '@quayside/shoot';
import { createHasher, type Hasher } from './create-hasher.ts';

/** Hashers kept for the next file: making one costs more than hashing a small file. */
export interface HasherShelf {
  /** Lends a fresh hasher for the length of `use`. */
  lend<Value>(algorithms: readonly HashAlgorithm[], use: (hasher: Hasher) => Promise<Value>): Promise<Value>;
}

export function createHasherShelf(): HasherShelf {
  const free = new Map<string, Hasher[]>();
  return {
    lend: async (algorithms, use) => {
      const key = [...algorithms].toSorted().join(' ');
      const shelf = free.get(key) ?? [];
      free.set(key, shelf);
      const hasher = shelf.pop() ?? (await createHasher(algorithms));
      try {
        return await use(hasher);
      } finally {
        hasher.reset();
        shelf.push(hasher);
      }
    },
  };
}

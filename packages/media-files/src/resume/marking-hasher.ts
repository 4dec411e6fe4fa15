import type { HashAlgorithm } from '@quayside/shoot';
import type { Hasher } from '../hashing/create-hasher.ts';
import { BLOCK_BYTES } from './block.ts';

export interface Marking {
  /** The blocks that the hasher has had. */
  readonly blocksHad: number;
  readonly algorithm: HashAlgorithm;
  /** Told, before `update` returns, of every block that the bytes complete. */
  readonly onMark: (index: number, mark: string) => void;
}

/** A hasher that gives the mark of every block it passes: the digest so far, which costs no second hashing. */
export function markBlocks(hasher: Hasher, { blocksHad, algorithm, onMark }: Marking): Hasher {
  let index = blocksHad;
  let missing = BLOCK_BYTES;
  return {
    ...hasher,
    update: (bytes) => {
      let done = 0;
      while (done < bytes.length) {
        const piece = bytes.subarray(done, done + missing);
        hasher.update(piece);
        done += piece.length;
        missing -= piece.length;
        if (missing > 0) continue;
        onMark(index, hasher.soFar(algorithm));
        index += 1;
        missing = BLOCK_BYTES;
      }
    },
  };
}

/** The algorithm of a part's marks: the quickest of those that are made of the file. */
export function markAlgorithm(algorithms: readonly HashAlgorithm[]): HashAlgorithm {
  return HASTE.find((algorithm) => algorithms.includes(algorithm)) ?? 'xxh128';
}

const HASTE: readonly HashAlgorithm[] = ['xxh128', 'xxh3', 'xxh64', 'sha1', 'md5', 'c4'];

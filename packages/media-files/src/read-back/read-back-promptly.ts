import { closeSync, constants, fstatSync, readSync } from 'node:fs';
import type { HashAlgorithm } from '@quayside/shoot';
import type { WorkControls } from '@quayside/step-sdk/built-in';
import { alignedLength } from '../direct-io/aligned-memory.ts';
import { takesFlagInVain } from '../direct-io/open-from-medium.ts';
import { openDirectlyAtOnce } from '../direct-io/open-past-cache.ts';
import { createPace, type Pace } from '../direct-io/pace.ts';
import { algorithmsOf, firstDifference } from '../hashing/compare-digests.ts';
import type { Hasher } from '../hashing/create-hasher.ts';
import { diskPath } from '../names/disk-path.ts';
import { createBreath } from '../workbench/breath.ts';
import { isSmall, type Workbench } from '../workbench/workbench.ts';
import { provenCopy, type ReadBackResult, type StoredCopy } from './read-back-copy.ts';

export interface PromptReadBack extends WorkControls {
  readonly workbench: Workbench;
  readonly onProven: (result: ReadBackResult) => void;
  /** A fresh one by default. */
  readonly pace?: Pace;
}

/**
 * Reads small copies back from the medium one after the other on this thread, as long as it answers promptly: that takes half
 * the processor time. Tells only what is proven, and gives what is left for the thorough way, which finds out why.
 * @throws what the signal throws.
 */
export async function readBackPromptly(copies: readonly StoredCopy[], work: PromptReadBack): Promise<StoredCopy[]> {
  const { workbench, signal, onBytes, onProven, pace = createPace() } = work;
  const [first] = copies;
  if (first === undefined) return [];
  const algorithms = algorithmsOf(first.record.digests);
  const breath = createBreath();
  const shelf = workbench.shelfFor(0);
  const buffer = await shelf.take();
  const left: StoredCopy[] = [];
  try {
    await workbench.hashers.lend(algorithms, async (hasher) => {
      for (const copy of copies) {
        if (breath.isDue()) await breath.take();
        signal.throwIfAborted();
        const isTried = pace.isPrompt() && isOrdinary(copy, algorithms);
        const result = isTried ? tryToProve(copy, { pace, buffer, hasher }) : null;
        if (result === null) {
          left.push(copy);
          continue;
        }
        onProven(result);
        onBytes(copy.record.sizeInBytes);
      }
    });
    return left;
  } finally {
    shelf.giveBack(buffer);
  }
}

/** What is verified already may not have to be read at all. */
function isOrdinary({ record }: StoredCopy, algorithms: readonly HashAlgorithm[]): boolean {
  const { state, sizeInBytes, digests } = record;
  if (state !== 'written' || !isSmall(sizeInBytes)) return false;
  return Object.keys(digests).length === algorithms.length && algorithms.every((one) => digests[one] !== undefined);
}

interface Tools {
  readonly pace: Pace;
  readonly buffer: Uint8Array;
  readonly hasher: Hasher;
}

function tryToProve(copy: StoredCopy, { pace, buffer, hasher }: Tools): ReadBackResult | null {
  const { record, rollFolder, destination } = copy;
  const path = diskPath(destination.root, rollFolder, record.storedPath);
  try {
    const fd = pace.time(() => openDirectlyAtOnce(path, constants.O_RDONLY | constants.O_NOFOLLOW));
    try {
      const stats = fstatSync(fd);
      if (stats.size !== record.sizeInBytes || takesFlagInVain(path)) return null;
      const length = alignedLength(stats.size);
      const count = length === 0 ? 0 : pace.time(() => readSync(fd, buffer, 0, length, 0));
      if (count !== stats.size) return null;
      hasher.update(buffer.subarray(0, count));
      const digests = hasher.digests();
      const isProven = firstDifference(record.digests, digests) === null;
      return isProven ? provenCopy(copy, { digests, method: 'direct', stats }) : null;
    } finally {
      closeSync(fd);
    }
  } catch {
    pace.noteVain();
    return null;
  }
}

import type { Failure, FileEntry } from '@quayside/shoot';
import type { ReadAt } from '../direct-io/read-ahead.ts';
import { readsDiffer } from '../source/read-again.ts';
import { isEveryoneGone, type Poured, type SourceReading } from '../source/read-source.ts';
import { fanOut, type Sink } from '../workbench/fan-out.ts';
import { BLOCK_BYTES } from './block.ts';
import { findStart, type Hashers } from './find-start.ts';
import { markAlgorithm, markBlocks } from './marking-hasher.ts';
import type { PartSink } from './part-sink.ts';

export interface ReadingOn {
  readonly file: FileEntry;
  readonly parts: readonly PartSink[];
  /** Whoever else wants the bytes. */
  readonly others: readonly Sink[];
  readonly readAt: ReadAt;
}

/**
 * Reads a large source into its parts, each from where it proves to stand, and gives the digests of the whole. A source that
 * gives other bytes than it gave first is a failure; the parts are then spoilt.
 */
export async function readOn(work: ReadingOn, reading: SourceReading): Promise<Poured | { readonly failure: Failure }> {
  const { file, parts, others, readAt } = work;
  const { workbench, algorithms, signal, onBytes } = reading;
  const sinks = [...parts, ...others];
  return lendHashers(parts, reading, async (hashers) => {
    const { blocksHad, hasher, known } = await findStart(parts, { readAt, hashers }, reading);
    const differing: number[] = [];
    const marking = markBlocks(hasher, {
      blocksHad,
      algorithm: markAlgorithm(algorithms),
      onMark: (index, mark) => {
        if (known[index] !== undefined && known[index] !== mark) differing.push(index * BLOCK_BYTES);
        for (const part of parts) part.noteBlock(index, mark);
      },
    });
    const startAt = blocksHad * BLOCK_BYTES;
    const poured = await fanOut(readAt, {
      startAt,
      sizeInBytes: file.sizeInBytes,
      shelf: workbench.shelfFor(file.sizeInBytes),
      sinks,
      hasher: marking,
      signal,
      onBytes: skipFirst(known.length * BLOCK_BYTES - startAt, onBytes),
    });
    const [differsAt] = differing;
    if (differsAt !== undefined) {
      for (const part of parts) part.spoil();
      return { failure: readsDiffer(file, `behind byte ${differsAt}`) };
    }
    return { bytesRead: startAt + poured.bytesRead, digests: poured.digests, isAllWanted: !isEveryoneGone(sinks) };
  });
}

/** Lends a hasher for the whole file and, where an earlier copy left something to prove, one for each part. */
async function lendHashers<Value>(
  parts: readonly PartSink[],
  { workbench, algorithms }: SourceReading,
  use: (hashers: Hashers) => Promise<Value>,
): Promise<Value> {
  const provers = parts.some(({ left }) => left.length > 0) ? parts.length : 0;
  return workbench.hashers.lend(algorithms, (fresh) =>
    workbench.hashers.lendStepping(provers, algorithms, (stepping) => use({ fresh, provers: stepping })),
  );
}

/** Each byte is told of once: those that were proven at a destination have been. */
function skipFirst(bytesTold: number, onBytes: (bytes: number) => void): (bytes: number) => void {
  let left = bytesTold;
  return (bytes) => {
    const skipped = Math.min(left, bytes);
    left -= skipped;
    if (skipped < bytes) onBytes(bytes - skipped);
  };
}

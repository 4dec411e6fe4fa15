import type { ReadAt } from '../direct-io/read-ahead.ts';
import { readAhead } from '../direct-io/read-ahead.ts';
import type { Hasher } from '../hashing/create-hasher.ts';
import type { SourceReading } from '../source/read-source.ts';
import { BLOCK_BYTES } from './block.ts';
import { markAlgorithm } from './marking-hasher.ts';
import type { ProvenPart } from './prove-part.ts';

/**
 * Whether the source still gives what it gave: the first and the last block of a proven part, read again and compared by
 * their marks. A file can change and keep its size and its times; one that grew a new head or was replaced shows so. The
 * hasher, which has had the part, stands behind it again at the end.
 */
export async function isLikeSource(
  { hasher, part, marks }: { readonly hasher: Hasher; readonly part: ProvenPart; readonly marks: readonly string[] },
  readAt: ReadAt,
  reading: SourceReading,
): Promise<boolean> {
  const last = part.blocks - 1;
  const giveBlock = async (index: number): Promise<string> => {
    await hashBlock(readAt, hasher, { index, reading });
    return hasher.soFar(markAlgorithm(reading.algorithms));
  };
  hasher.reset();
  const isFirstSame = (await giveBlock(0)) === marks[0];
  part.goBeforeLast();
  const isLastSame = isFirstSame && (last === 0 || (await giveBlock(last)) === marks[last]);
  part.goToEnd();
  return isLastSame;
}

async function hashBlock(
  readAt: ReadAt,
  hasher: Hasher,
  { index, reading }: { readonly index: number; readonly reading: SourceReading },
): Promise<void> {
  const startAt = index * BLOCK_BYTES;
  const sizeInBytes = startAt + BLOCK_BYTES;
  const shelf = reading.workbench.shelfFor(sizeInBytes);
  for await (const chunk of readAhead(readAt, { startAt, sizeInBytes, shelf, depth: 2 })) {
    hasher.update(chunk.bytes);
    chunk.release();
    reading.signal.throwIfAborted();
  }
}

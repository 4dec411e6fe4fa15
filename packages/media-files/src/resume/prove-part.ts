import type { HashAlgorithm } from '@quayside/shoot';
import type { StopSignal } from '@quayside/step-sdk/built-in';
import { fileCalls } from '../direct-io/file-calls.ts';
import { openFromMedium } from '../direct-io/open-from-medium.ts';
import { type ReadAt, readAhead } from '../direct-io/read-ahead.ts';
import type { Hasher, SteppingHasher } from '../hashing/create-hasher.ts';
import type { Workbench } from '../workbench/workbench.ts';
import { BLOCK_BYTES } from './block.ts';
import { markBlocks } from './marking-hasher.ts';

export interface Proof {
  readonly path: string;
  /** What the source gave. */
  readonly marks: readonly string[];
  readonly algorithm: HashAlgorithm;
  readonly workbench: Workbench;
  readonly signal: StopSignal;
  readonly onBytes: (bytes: number) => void;
}

const READS_AHEAD = 2;

export interface ProvenPart {
  /** How many blocks, from the first on, are what the source gave. */
  readonly blocks: number;
  /** Sets the hasher behind these blocks; after the proof it stands there. */
  readonly goToEnd: () => void;
  /** Sets the hasher before the last of them. */
  readonly goBeforeLast: () => void;
}

/**
 * Reads a part back from the medium through a fresh hasher, up to the first block that is not what the source gave. A part
 * that cannot be read is worth what could be read of it.
 */
export async function provePart(hasher: SteppingHasher, proof: Proof): Promise<ProvenPart> {
  const { path, signal } = proof;
  let blocks = 0;
  let goToEnd = hasher.remember();
  let goBeforeLast = goToEnd;
  try {
    const { fd } = await openFromMedium(path);
    try {
      const readAt: ReadAt = (bytes, position) => fileCalls.read(fd, bytes, position);
      const onProven = (): void => {
        blocks += 1;
        goBeforeLast = goToEnd;
        goToEnd = hasher.remember();
      };
      await readMarked(readAt, hasher, { ...proof, onProven });
    } finally {
      await fileCalls.close(fd);
    }
  } catch {
    signal.throwIfAborted();
  }
  goToEnd();
  return { blocks, goToEnd, goBeforeLast };
}

async function readMarked(
  readAt: ReadAt,
  hasher: Hasher,
  { marks, algorithm, workbench, signal, onBytes, onProven }: Proof & { readonly onProven: () => void },
): Promise<void> {
  const sizeInBytes = marks.length * BLOCK_BYTES;
  const shelf = workbench.shelfFor(sizeInBytes);
  let isRight = true;
  const marking = markBlocks(hasher, {
    blocksHad: 0,
    algorithm,
    onMark: (index, mark) => {
      isRight &&= mark === marks[index];
      if (isRight) onProven();
    },
  });
  for await (const chunk of readAhead(readAt, { sizeInBytes, shelf, depth: READS_AHEAD })) {
    const { length } = chunk.bytes;
    marking.update(chunk.bytes);
    chunk.release();
    onBytes(length);
    signal.throwIfAborted();
    if (!isRight) return;
  }
}

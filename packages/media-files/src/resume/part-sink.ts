import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import type { FileEntry } from '@quayside/shoot';
import type { Desk } from '../copy/desk.ts';
import type { DeskSink } from '../copy/desk-sink.ts';
import { reopenLargeFile, SealError, type StagedFile, stageLargeFile } from '../copy/staged-file.ts';
import { errorCodeOf, fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { BLOCK_BYTES } from './block.ts';
import { leavePart, PART_NAME, partKey, removePart, takePart } from './part-folders.ts';
import { type GrowingJournal, type PartHeader, readPartJournal, startPartJournal } from './part-journal.ts';

/** A desk's sink for a large file, whose copy outlives an interruption. */
export interface PartSink extends DeskSink {
  readonly path: string;
  /** The marks of the blocks that an earlier, interrupted copy of this very file left here. Nothing is proven by them. */
  readonly left: readonly string[];
  /** Begins behind so many blocks, which have been proven; what stands behind them is cut off. Called once, before `take`. */
  begin(blocks: number): Promise<void>;
  /** Says the mark of a block that the source gave. Told before the last of its chunks has been written. */
  noteBlock(index: number, mark: string): void;
}

/** Opens a desk's part of this file, or a new one. A failure to do so is kept like a failure to write. */
export async function openPartSink(
  desk: Desk,
  file: FileEntry,
  { changedMs, algorithm }: Pick<PartHeader, 'changedMs' | 'algorithm'>,
): Promise<PartSink> {
  const { stagingFolder } = desk.known;
  const { path, sizeInBytes, modifiedMs } = file;
  const header: PartHeader = {
    format: 1,
    rollId: desk.rollId,
    path,
    sizeInBytes,
    modifiedMs,
    changedMs,
    blockBytes: BLOCK_BYTES,
    algorithm,
  };
  try {
    // In work here already means that a lock was lost: that copy has the part, and this one must not meet it.
    const folder =
      (await takePart(stagingFolder, partKey(desk.rollId, path))) ??
      (await takePart(stagingFolder, partKey(randomUUID(), path)));
    if (folder === null) throw new Error('No folder for the part could be had');
    const journal = await readPartJournal(folder);
    const isSame = journal !== null && isSameHeader(journal.header, header);
    return partSink({ desk, folder, header, left: isSame ? journal.marks : [] });
  } catch (error) {
    return failedSink(desk, error);
  }
}

interface Part {
  readonly desk: Desk;
  readonly folder: string;
  readonly header: PartHeader;
  readonly left: readonly string[];
}

function partSink({ desk, folder, header, left }: Part): PartSink {
  const path = join(folder, PART_NAME);
  const marks = [...left];
  let staged: StagedFile | null = null;
  let journal: GrowingJournal | null = null;
  let trouble: { readonly error: unknown } | null = null;
  // Called off before it begins, the part is worth what it was.
  let durableBlocks = left.length;
  let begunAt = 0;
  let blocksWritten = 0;
  let checkpoint: Promise<void> = Promise.resolve();
  let queue: Promise<void> = Promise.resolve();
  let isKept = false;
  let isSpoilt = false;

  const makeDurable = async (index: number): Promise<void> => {
    const mark = marks[index];
    if (mark === undefined) throw new Error(`Block ${index} was written before its mark was known`);
    await staged?.sync();
    await journal?.append(mark);
    durableBlocks = index + 1;
  };
  const write = async (chunk: Parameters<StagedFile['write']>[0]): Promise<void> => {
    const end = chunk.position + chunk.bytes.length;
    if (end <= begunAt) return;
    await staged?.write(chunk);
    for (; (blocksWritten + 1) * BLOCK_BYTES <= end; blocksWritten += 1) {
      // One at a time, beside the writing of the next block: so no more than two are ever at stake.
      await checkpoint;
      checkpoint = makeDurable(blocksWritten);
      checkpoint.catch(() => undefined);
    }
  };
  const guarded = async (work: () => Promise<void>): Promise<void> => {
    if (trouble !== null) return;
    try {
      await work();
    } catch (error) {
      trouble = { error };
    }
  };

  return {
    desk,
    path,
    left,
    hasFailed: () => trouble !== null,
    begin: (blocks) =>
      guarded(async () => {
        marks.length = blocks;
        durableBlocks = blocks;
        blocksWritten = blocks;
        begunAt = blocks * BLOCK_BYTES;
        if (blocks === 0) await unlessCode(['ENOENT'], fileCalls.unlink(path));
        staged = await (blocks === 0 ? stageLargeFile(path) : reopenLargeFile(path, begunAt));
        journal = await startPartJournal(folder, { header, marks });
      }),
    noteBlock: (index, mark) => {
      if (index >= begunAt / BLOCK_BYTES) marks[index] = mark;
    },
    take: (chunk) => {
      queue = queue.then(() => guarded(() => write(chunk)));
      return queue;
    },
    staged: () => {
      if (trouble !== null) throw trouble.error;
      if (staged === null) throw new Error('Nothing was staged');
      return sealedAfter(staged, () => checkpoint);
    },
    keep: () => {
      isKept = true;
    },
    spoil: () => {
      isSpoilt = true;
    },
    discard: async () => {
      await checkpoint.catch((error: unknown) => {
        trouble ??= { error };
      });
      await journal?.close().catch(() => undefined);
      await staged?.close().catch(() => undefined);
      const isWorthless = isSpoilt || durableBlocks === 0 || (trouble !== null && isFatal(trouble.error));
      if (isKept || isWorthless) await removePart(folder);
      else await leavePart(folder, desk.known.stagingFolder);
    },
  };
}

/** The staged file, sealed only after its last block's checkpoint: what that finds, the seal's own sync would not be told. */
function sealedAfter(staged: StagedFile, checkpoint: () => Promise<void>): StagedFile {
  return {
    ...staged,
    seal: async (isSynced) => {
      await checkpoint();
      await staged.seal(isSynced);
    },
  };
}

function failedSink(desk: Desk, error: unknown): PartSink {
  return {
    desk,
    path: '',
    left: [],
    hasFailed: () => true,
    begin: async () => undefined,
    noteBlock: () => undefined,
    take: async () => undefined,
    staged: () => {
      throw error;
    },
    keep: () => undefined,
    spoil: () => undefined,
    discard: async () => undefined,
  };
}

/** After a failed sync nothing written is worth anything; and on a full disk what is there already wants room for its records. */
function isFatal(error: unknown): boolean {
  return error instanceof SealError || ['ENOSPC', 'EDQUOT'].includes(errorCodeOf(error));
}

function isSameHeader(one: PartHeader, other: PartHeader): boolean {
  return (
    one.rollId === other.rollId &&
    one.path === other.path &&
    one.sizeInBytes === other.sizeInBytes &&
    one.modifiedMs === other.modifiedMs &&
    one.changedMs === other.changedMs &&
    one.blockBytes === other.blockBytes &&
    one.algorithm === other.algorithm
  );
}

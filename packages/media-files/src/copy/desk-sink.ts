import { join } from 'node:path';
import { randomUUID } from 'node:crypto';
import type { FileEntry } from '@quayside/shoot';
import type { Sink } from '../workbench/fan-out.ts';
import { isSmall } from '../workbench/workbench.ts';
import type { Desk } from './desk.ts';
import { type StagedFile, stageLargeFile, stageSmallFile } from './staged-file.ts';

/** A staged file on its way to its name. */
export interface StagedSink {
  readonly desk: Desk;
  /** The staged file, as long as nothing has failed. @throws what has. */
  staged(): StagedFile;
  /** Says that the staged file has its final name: `discard` then leaves it. */
  keep(): void;
  /** Says that what was staged is of no use for another try either. */
  spoil(): void;
  /** Ends the staging. What has its final name stays, and a part that can be gone on with is left for that. */
  discard(): Promise<void>;
}

/** A staged file that chunks go to one after the other, in the order given, until one fails. */
export type DeskSink = StagedSink & Sink;

/** Stages a file at a desk. A failure to do so is kept like a failure to write. */
export async function openDeskSink(desk: Desk, file: FileEntry): Promise<DeskSink> {
  let staged: StagedFile | null = null;
  let trouble: { readonly error: unknown } | null = null;
  let isKept = false;
  let queue: Promise<void> = Promise.resolve();
  try {
    const path = join(desk.known.stagingFolder, `${randomUUID()}.part`);
    const { calls } = desk.known;
    staged = await (isSmall(file.sizeInBytes) ? stageSmallFile(path, calls) : stageLargeFile(path));
  } catch (error) {
    trouble = { error };
  }

  return {
    desk,
    hasFailed: () => trouble !== null,
    take: (chunk) => {
      queue = queue.then(async () => {
        if (trouble !== null) return;
        try {
          await staged?.write(chunk);
        } catch (error) {
          trouble = { error };
        }
      });
      return queue;
    },
    staged: () => {
      if (trouble !== null) throw trouble.error;
      if (staged === null) throw new Error('Nothing was staged');
      return staged;
    },
    keep: () => {
      isKept = true;
    },
    // A small copy is never gone on with.
    spoil: () => undefined,
    discard: async () => (isKept ? undefined : staged?.discard()),
  };
}

import type { FileEntry } from '@quayside/shoot';
import { syncFileSystem } from '../destination/local-disk.ts';
import { forEachAtOnce } from '../workbench/for-each-at-once.ts';
import type { Desk } from './desk.ts';
import type { DeskSink } from './desk-sink.ts';
import { SealError } from './staged-file.ts';

/** A copy that is staged, and what becomes known of it when it fails. */
export interface SealableCopy {
  readonly file: FileEntry;
  readonly sink: DeskSink;
  fail(error: unknown): void;
}

const SYNCS_AT_ONCE = 16;
/** From this many on, one sync of the file system is quicker than one of each file: measured, it halves the waiting. */
const WORTH_SYNCING_ALL = 8;

/** Makes staged copies durable: many at one desk with one sync of its file system, few with one each. */
export async function sealCopies(copies: readonly SealableCopy[]): Promise<void> {
  const byDesk = Map.groupBy(copies, ({ sink }) => sink.desk);
  await Promise.all([...byDesk].map(([desk, ofDesk]) => sealAtDesk(desk, ofDesk)));
}

async function sealAtDesk(desk: Desk, copies: readonly SealableCopy[]): Promise<void> {
  const isSynced = copies.length >= WORTH_SYNCING_ALL && (await isAllSynced(desk, copies));
  await forEachAtOnce(copies, SYNCS_AT_ONCE, async (copy) => {
    try {
      await copy.sink.staged().seal(isSynced);
    } catch (error) {
      copy.fail(error);
    }
  });
}

async function isAllSynced({ known }: Desk, copies: readonly SealableCopy[]): Promise<boolean> {
  if (!known.syncsAtOnce) return false;
  try {
    await syncFileSystem(known.stagingFolder);
    return true;
  } catch (error) {
    // Which of them was lost is not known, so all are made anew; from now on each is synced and asked by itself.
    known.syncsAtOnce = false;
    for (const copy of copies) copy.fail(new SealError('The file system could not be synced', { cause: error }));
    return true;
  }
}

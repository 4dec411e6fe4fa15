import type { FileEntry } from '@quayside/shoot';
import { forEachAtOnce } from '../workbench/for-each-at-once.ts';
import type { StagedSink } from './desk-sink.ts';
import { SealError } from './staged-file.ts';

/** A copy that is staged, and what becomes known of it when it fails. */
export interface SealableCopy {
  readonly file: FileEntry;
  readonly sink: StagedSink;
  fail(error: unknown): void;
}

const SYNCS_AT_ONCE = 16;
/** From this many on, one sync of the file system is quicker than one of each file: measured, it halves the waiting. */
const WORTH_SYNCING_ALL = 8;

/** Makes staged copies durable: many on one file system with one sync of it all, few with one each. */
export async function sealCopies(copies: readonly SealableCopy[]): Promise<void> {
  const byDevice = Map.groupBy(copies, ({ sink }) => sink.desk.known.device);
  await Promise.all([...byDevice.values()].map(sealOnDevice));
}

async function sealOnDevice(copies: readonly SealableCopy[]): Promise<void> {
  const isSynced = copies.length >= WORTH_SYNCING_ALL && (await isAllSynced(copies));
  await forEachAtOnce(copies, SYNCS_AT_ONCE, async (copy) => {
    try {
      await copy.sink.staged().seal(isSynced);
    } catch (error) {
      copy.fail(error);
    }
  });
}

async function isAllSynced(copies: readonly SealableCopy[]): Promise<boolean> {
  const [known] = copies.map(({ sink }) => sink.desk.known);
  if (known?.syncsAtOnce !== true) return false;
  try {
    await known.syncer.sync();
    return true;
  } catch (error) {
    // Which of them was lost is not known, so all are made anew; from now on each is synced and asked by itself.
    for (const copy of copies) {
      copy.sink.desk.known.syncsAtOnce = false;
      copy.fail(new SealError('The file system could not be synced', { cause: error }));
    }
    return true;
  }
}

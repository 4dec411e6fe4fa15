import { closeSync, constants, futimesSync, openSync, unlinkSync, writeSync } from 'node:fs';
import { ALIGNMENT_BYTES, alignedLength } from '../direct-io/aligned-memory.ts';
import { errorCodeOf, fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { openPastCache, type OpenFile, REFUSES_DIRECT } from '../direct-io/open-past-cache.ts';
import { promptCalls, type SmallFileCalls } from '../direct-io/prompt-calls.ts';
import type { Chunk } from '../direct-io/read-ahead.ts';
import { writeFully } from '../direct-io/write-fully.ts';

/**
 * A copy in the making, under a name of no meaning in the staging folder. Chunks may be given in any order but only one at
 * a time; then `complete` and `seal`, in this order. `discard` at any moment.
 */
export interface StagedFile {
  readonly path: string;
  write(chunk: Chunk): Promise<void>;
  /** Makes durable what is written so far. @throws SealError when it may not be on the medium. */
  sync(): Promise<void>;
  /** Gives it its size and time. */
  complete(facts: { readonly sizeInBytes: number; readonly modifiedMs: number }): Promise<void>;
  /** Syncs it, unless its whole file system was synced since, and closes it. @throws SealError when it may not be on the medium. */
  seal(isSynced: boolean): Promise<void>;
  /** Closes it where it is not closed yet, and leaves it where it lies. */
  close(): Promise<void>;
  /** Closes and removes it. Never throws: it is called where something has failed already. */
  discard(): Promise<void>;
}

/**
 * A failed sync or close. The kernel reports a lost write once and then calls the pages clean, so asking again would be
 * answered with a lie: the copy must be made anew.
 */
export class SealError extends Error {
  override readonly name = 'SealError';
}

const CREATE = constants.O_WRONLY | constants.O_CREAT | constants.O_EXCL;

/** Creates a staged file for a large copy; the name must be free. It is written past the page cache where that is allowed. */
export async function stageLargeFile(path: string): Promise<StagedFile> {
  return stagedFile(path, await openPastCache(path, CREATE), fileCalls);
}

/** Opens a staged file of an interrupted copy again, and cuts off what stands behind its first `length` bytes. */
export async function reopenLargeFile(path: string, length: number): Promise<StagedFile> {
  const opened = await openPastCache(path, constants.O_WRONLY | constants.O_NOFOLLOW);
  try {
    await fileCalls.ftruncate(opened.fd, length);
  } catch (error) {
    await fileCalls.close(opened.fd);
    throw error;
  }
  return stagedFile(path, opened, fileCalls);
}

/** Creates a staged file for a small copy; the name must be free. It goes through the page cache, to be synced with its neighbours. */
export async function stageSmallFile(path: string, calls: SmallFileCalls): Promise<StagedFile> {
  return stagedFile(path, { fd: await calls.open(path, CREATE), isDirect: false }, calls);
}

/**
 * Creates a staged file for a small copy with its bytes and its time, at once on this thread; what is left is to seal it.
 * @throws the system's error; nothing is left then.
 */
export function stageSmallFileAtOnce(path: string, bytes: Uint8Array, modifiedMs: number): StagedFile {
  const fd = openSync(path, CREATE, 0o666);
  try {
    for (let done = 0; done < bytes.length;) done += writeSync(fd, bytes, done, bytes.length - done, done);
    futimesSync(fd, modifiedMs / 1000, modifiedMs / 1000);
    return stagedFile(path, { fd, isDirect: false }, promptCalls);
  } catch (error) {
    closeSync(fd);
    unlinkSync(path);
    throw error;
  }
}

function stagedFile(path: string, opened: OpenFile, calls: SmallFileCalls): StagedFile {
  let file = opened;
  let isPadded = false;
  let isOpen = true;
  const writeAt = (bytes: Uint8Array, position: number): Promise<number> => calls.write(file.fd, bytes, position);
  const close = async (): Promise<void> => {
    if (!isOpen) return;
    isOpen = false;
    await calls.close(file.fd);
  };

  return {
    path,
    write: async (chunk) => {
      const bytes = file.isDirect ? pad(chunk) : chunk.bytes;
      try {
        await writeFully(writeAt, bytes, chunk.position);
        isPadded ||= bytes.length > chunk.bytes.length;
      } catch (error) {
        if (!file.isDirect || !REFUSES_DIRECT.includes(errorCodeOf(error))) throw error;
        file = await reopenBuffered(path, file);
        await writeFully(writeAt, chunk.bytes, chunk.position);
      }
    },
    sync: async () => {
      try {
        await fileCalls.fsync(file.fd);
      } catch (error) {
        throw new SealError('The copy could not be synced', { cause: error });
      }
    },
    complete: async ({ sizeInBytes, modifiedMs }) => {
      if (isPadded) await fileCalls.ftruncate(file.fd, sizeInBytes);
      // Not every file system lets us set times (SMB, exFAT with a fixed owner): the ledger and the manifest have them.
      await unlessCode(['EPERM', 'EINVAL', 'ENOTSUP'], calls.futimes(file.fd, modifiedMs / 1000));
    },
    seal: async (isSynced) => {
      try {
        if (!isSynced) await fileCalls.fsync(file.fd);
        await close();
      } catch (error) {
        throw new SealError('The copy could not be synced', { cause: error });
      }
    },
    close,
    discard: async () => {
      await close().catch(() => undefined);
      await fileCalls.unlink(path).catch(() => undefined);
    },
  };
}

/** Some file systems open a file for direct I/O and then refuse to write to it so. */
async function reopenBuffered(path: string, file: OpenFile): Promise<OpenFile> {
  const fd = await fileCalls.open(path, constants.O_WRONLY);
  await fileCalls.close(file.fd);
  return { fd, isDirect: false };
}

/** Direct I/O moves whole blocks: the last chunk goes out with zeros behind it, which `complete` cuts off. */
function pad({ bytes, buffer }: Chunk): Uint8Array {
  if (bytes.length % ALIGNMENT_BYTES === 0) return bytes;
  const length = alignedLength(bytes.length);
  buffer.fill(0, bytes.length, length);
  return buffer.subarray(0, length);
}

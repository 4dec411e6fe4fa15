import { closeSync, constants, fstatSync, readSync, type Stats } from 'node:fs';
import { realpath } from 'node:fs/promises';
import type { Mount } from '@quayside/shoot';
import { errorCodeOf, fileCalls } from '../direct-io/file-calls.ts';
import { openFileCalls } from '../direct-io/prompt-calls.ts';
import { openDirectlyAtOnce, openPastCache } from '../direct-io/open-past-cache.ts';
import type { ReadAt } from '../direct-io/read-ahead.ts';
import { diskPath, folderOf } from '../names/disk-path.ts';
import { throwIfEscapes } from '../names/throw-if-escapes.ts';

/** A file on a volume, open for reading. There is nothing here to write with. */
export interface SourceFile {
  readonly readAt: ReadAt;
  /** Size and times as they are now. */
  stat(): Promise<Pick<Stats, 'size' | 'mtimeMs' | 'ctimeMs'>>;
  close(): Promise<void>;
}

const READ_ONLY = constants.O_RDONLY | constants.O_NOFOLLOW;
/** Leaves even the time of the last access alone; only the owner and root may ask for it. */
const WITHOUT_TRACE = READ_ONLY | (constants.O_NOATIME ?? 0);

/** The same for a small file, each call made at once on this thread. */
export interface PromptSourceFile {
  /** Reads from the start into the whole of `bytes`, which is aligned; gives the count. */
  read(bytes: Uint8Array): number;
  stat(): Stats;
  close(): void;
}

/** Opens files of one volume. */
export type OpenSource = (path: string) => Promise<SourceFile>;

export interface SourceOpener {
  readonly openSource: OpenSource;
  /** Makes sure that a folder of the volume is none that a link leads to. @throws the system's error when it is. */
  checkFolder(folder: string): Promise<void>;
  /** Null in a folder that was not checked. @throws the system's error also where there is no direct I/O. */
  openPromptly(path: string): PromptSourceFile | null;
}

/**
 * Gives what opens files of a volume for reading, past the page cache where that is possible. THE ONLY PLACE where
 * footage on a source is opened. Never through a link, never outside the mount.
 */
export function createSourceOpener(mount: Mount): SourceOpener {
  const checks = new Map<string, Promise<void>>();
  const checkedFolders = new Set<string>();
  const checkFolder = async (folder: string): Promise<void> => {
    const check = checks.get(folder) ?? throwIfLinked(mount, folder);
    checks.set(folder, check);
    await check;
    checkedFolders.add(folder);
  };
  return {
    checkFolder,
    openSource: async (path) => {
      throwIfEscapes(path);
      await checkFolder(folderOf(path));
      const { fd } = await openForReading(diskPath(mount.path, path));
      return {
        readAt: (bytes, position) => fileCalls.read(fd, bytes, position),
        stat: () => openFileCalls.stat(fd),
        close: () => openFileCalls.close(fd),
      };
    },
    openPromptly: (path) => {
      throwIfEscapes(path);
      if (!checkedFolders.has(folderOf(path))) return null;
      const fd = openDirectlyAtOnce(diskPath(mount.path, path), WITHOUT_TRACE);
      return {
        read: (bytes) => readSync(fd, bytes, 0, bytes.length, 0),
        stat: () => fstatSync(fd),
        close: () => closeSync(fd),
      };
    },
  };
}

async function openForReading(path: string | Buffer): Promise<{ readonly fd: number }> {
  try {
    return await openPastCache(path, WITHOUT_TRACE);
  } catch (error) {
    if (errorCodeOf(error) !== 'EPERM') throw error;
    return openPastCache(path, READ_ONLY);
  }
}

/** A folder that was a folder when listed may be a link by now; the flag against links looks at the last part only. */
async function throwIfLinked(mount: Mount, folder: string): Promise<void> {
  if (folder === '') return;
  const [root, parent] = await Promise.all([realBytes(diskPath(mount.path)), realBytes(diskPath(mount.path, folder))]);
  const expected = Buffer.concat([root, Buffer.from('/'), Buffer.from(diskPath(folder))]);
  if (expected.equals(parent)) return;
  throw Object.assign(new Error(`${JSON.stringify(folder)} leads through a link`), { code: 'ELOOP' });
}

async function realBytes(path: string | Buffer): Promise<Buffer> {
  return realpath(path, { encoding: 'buffer' });
}

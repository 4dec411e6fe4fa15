import { spawn } from 'node:child_process';
import { constants, type Stats, statfsSync } from 'node:fs';
import type { ReadBackMethod } from '@quayside/shoot';
import { fileCalls } from './file-calls.ts';
import { openFileCalls } from './prompt-calls.ts';
import { openPastCache } from './open-past-cache.ts';

/** A file open for being read from the medium, and how far that could be had. */
export interface FileFromMedium {
  readonly fd: number;
  readonly method: ReadBackMethod;
  readonly stats: Stats;
}

/**
 * File systems (by the magic number of statfs(2)) that take the flag for direct I/O without keeping its promise: FUSE
 * passes by its own cache only, not by that of the program behind it; tmpfs is memory; ZFS asks its ARC; and a server (NFS,
 * SMB, 9p, Ceph, AFS, a virtual machine's host) answers from its own memory, which nobody here can pass by.
 */
const TAKES_FLAG_IN_VAIN = new Set([
  0x65735546, 0x01021994, 0x858458f6, 0x2fc12fc1, 0xff534d42, 0xfe534d42, 0x517b, 0x6969, 0x01021997, 0x00c36400,
  0x5346414f, 0x786f4256,
]);

/** Opens a file so that its bytes come from the medium, not from memory, and says honestly whether they will. The caller closes. */
export async function openFromMedium(path: string | Buffer): Promise<FileFromMedium> {
  const { fd, isDirect } = await openPastCache(path, constants.O_RDONLY | constants.O_NOFOLLOW);
  try {
    const stats = await openFileCalls.stat(fd);
    if (takesFlagInVain(path)) return { fd, method: 'cached', stats };
    if (isDirect) return { fd, method: 'direct', stats };
    await fileCalls.fsync(fd);
    return { fd, method: (await dropCachedPages(fd)) ? 'dropped' : 'cached', stats };
  } catch (error) {
    await fileCalls.close(fd);
    throw error;
  }
}

/** True where direct I/O is granted and yet the bytes may come from memory. */
export function takesFlagInVain(path: string | Buffer): boolean {
  if (process.platform !== 'linux') return false;
  // Asked for each file: a device's number goes to the next file system that is mounted. The quick call, since it is.
  return TAKES_FLAG_IN_VAIN.has(statfsSync(path).type);
}

/** Node has no posix_fadvise; GNU dd can be asked for nothing else. The file is its input: it is not even open for writing. */
async function dropCachedPages(fd: number): Promise<boolean> {
  if (process.platform !== 'linux') return false;
  return new Promise((resolve) => {
    const dd = spawn('dd', ['iflag=nocache', 'count=0', 'status=none'], { stdio: [fd, 'ignore', 'ignore'] });
    dd.on('error', () => resolve(false));
    dd.on('exit', (code) => resolve(code === 0));
  });
}

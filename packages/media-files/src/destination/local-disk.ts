import { spawn } from 'node:child_process';
import { statfs } from 'node:fs/promises';

/** The magic numbers of statfs(2) of ext2-4, XFS, Btrfs and F2FS. */
const LOCAL_DISKS = new Set([0xef53, 0x58465342, 0x9123683e, 0xf2f52010]);

/** True for a file system on a local disk whose calls on cached things return at once and whose syncfs(2) can be relied on. */
export async function isOnLocalDisk(root: string): Promise<boolean> {
  return process.platform === 'linux' && LOCAL_DISKS.has((await statfs(root)).type);
}

/**
 * Syncs a whole file system, with GNU `sync`, since Node has no syncfs(2): many small files in one commit instead of one
 * each. It fails where write-back has failed (Linux 5.8 and later); what it could still miss, the read-back finds.
 */
export async function syncFileSystem(folder: string): Promise<void> {
  const sync = spawn('sync', ['--file-system', folder], { stdio: 'ignore' });
  const code = await new Promise<number | null>((resolve, reject) => {
    sync.on('error', reject);
    sync.on('exit', resolve);
  });
  if (code !== 0) throw Object.assign(new Error(`sync --file-system ended with ${code}`), { code: 'EIO' });
}

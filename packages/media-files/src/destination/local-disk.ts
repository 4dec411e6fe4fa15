import { statfs } from 'node:fs/promises';

/** The magic numbers of statfs(2) of ext2-4, XFS, Btrfs and F2FS. */
const LOCAL_DISKS = new Set([0xef53, 0x58465342, 0x9123683e, 0xf2f52010]);

/** True for a file system on a local disk whose calls on cached things return at once and whose syncfs(2) can be relied on. */
export async function isOnLocalDisk(root: string): Promise<boolean> {
  return process.platform === 'linux' && LOCAL_DISKS.has((await statfs(root)).type);
}

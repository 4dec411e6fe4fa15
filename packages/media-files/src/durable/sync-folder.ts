import { constants } from 'node:fs';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';

/** What file systems answer that cannot sync a folder; on those the names are durable with the files, or not at all. */
const CANNOT_SYNC_FOLDERS = ['EINVAL', 'EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'EISDIR'];

/** Makes the names in a folder durable. A file system that cannot is let pass; any other failure is thrown. */
export async function syncFolder(path: string | Buffer): Promise<void> {
  const fd = await unlessCode(CANNOT_SYNC_FOLDERS, fileCalls.open(path, constants.O_RDONLY));
  if (fd === null) return;
  try {
    await unlessCode(CANNOT_SYNC_FOLDERS, fileCalls.fsync(fd));
  } finally {
    await fileCalls.close(fd);
  }
}

import { dirname } from 'node:path';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { syncFolder } from './sync-folder.ts';

/** Creates a folder and what is missing above it, each synced into its parent. A folder that is there is left as it is. */
export async function createFolderDurably(path: string): Promise<void> {
  const known = await unlessCode(['ENOENT'], fileCalls.stat(path));
  if (known?.isDirectory() === true) return;
  await createFolderDurably(dirname(path));
  await unlessCode(['EEXIST'], fileCalls.mkdir(path));
  await syncFolder(dirname(path));
}

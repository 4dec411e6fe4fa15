import { randomUUID } from 'node:crypto';
import { constants } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileCalls } from '../direct-io/file-calls.ts';
import { syncFolder } from './sync-folder.ts';
import { writeFully } from '../direct-io/write-fully.ts';

/**
 * Writes a small record so that after a crash either the old or the new content is there, never a part: staged beside,
 * synced, renamed over, folder synced. For our own records only; footage never replaces anything.
 */
export async function writeDurably(path: string, data: string | Uint8Array): Promise<void> {
  const staged = join(dirname(path), `.${randomUUID()}.part`);
  try {
    await writeSynced(staged, typeof data === 'string' ? Buffer.from(data) : data);
    await fileCalls.rename(staged, path);
  } catch (error) {
    await fileCalls.unlink(staged).catch(() => undefined);
    throw error;
  }
  await syncFolder(dirname(path));
}

async function writeSynced(path: string, bytes: Uint8Array): Promise<void> {
  const fd = await fileCalls.open(path, constants.O_WRONLY | constants.O_CREAT | constants.O_EXCL);
  try {
    await writeFully((part, position) => fileCalls.write(fd, part, position), bytes, 0);
    await fileCalls.fsync(fd);
  } finally {
    await fileCalls.close(fd);
  }
}

import { randomUUID } from 'node:crypto';
import { constants } from 'node:fs';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { OutputFiles } from '@quayside/guest-host';
import { createDestinationFolder, syncFolder } from '@quayside/media-files';

/**
 * Files what a run left in a folder below a destination's root: all of it or nothing, staged and synced beside and then
 * renamed into place of what an earlier run left. Links are not followed.
 */
export async function fileOutput(root: string, place: string, { folder, files }: OutputFiles): Promise<void> {
  const target = join(root, place);
  await createDestinationFolder(root, dirname(target));
  const staged = join(dirname(target), `.${randomUUID()}.part`);
  try {
    await mkdir(staged);
    for (const { path } of files) {
      const copy = join(staged, path);
      await mkdir(dirname(copy), { recursive: true });
      await copySynced(join(folder, path), copy);
      await syncFolder(dirname(copy));
    }
    await rm(target, { recursive: true, force: true });
    await rename(staged, target);
  } catch (error) {
    await rm(staged, { recursive: true, force: true });
    throw error;
  }
  await syncFolder(dirname(target));
}

const CHUNK_BYTES = 1024 ** 2;

async function copySynced(from: string, to: string): Promise<void> {
  await using source = await open(from, constants.O_RDONLY | constants.O_NOFOLLOW);
  await using target = await open(to, constants.O_WRONLY | constants.O_CREAT | constants.O_EXCL);
  const buffer = Buffer.alloc(CHUNK_BYTES);
  for (;;) {
    const { bytesRead } = await source.read(buffer, 0, CHUNK_BYTES);
    if (bytesRead === 0) break;
    // Writes all of it, in as many turns as it takes.
    await target.writeFile(buffer.subarray(0, bytesRead));
  }
  await target.sync();
}

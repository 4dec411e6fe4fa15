import { randomUUID } from 'node:crypto';
import { constants } from 'node:fs';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { createDestinationFolder, hashFile, syncFolder } from '@quayside/media-files';
import { type GuestRunRecord, QuaysideError } from '@quayside/shoot';

/** Files in a folder, by their paths in it, with what their copies must hash to. */
export interface HashedOutput {
  readonly folder: string;
  readonly files: GuestRunRecord['files'];
}

/** The files of a run with their digests. */
export async function hashOutput(
  folder: string,
  files: readonly { readonly path: string; readonly sizeInBytes: number }[],
): Promise<HashedOutput> {
  const hashed: GuestRunRecord['files'] = [];
  for (const { path } of files) {
    const { digests, sizeInBytes } = await hashFile(join(folder, path), ['xxh128'], { pastCache: false });
    hashed.push({ path, sizeInBytes, xxh128: digests.xxh128 ?? '' });
  }
  return { folder, files: hashed };
}

/**
 * Files what a run left in a folder below a destination's root: all of it or nothing, staged and synced beside, read back,
 * and then renamed into place of what an earlier run left. Links are not followed.
 * @throws QuaysideError `OUTPUT_COPY_DIFFERS` when a copy is not what it was made from
 */
export async function fileOutput(root: string, place: string, { folder, files }: HashedOutput): Promise<void> {
  const target = join(root, place);
  await createDestinationFolder(root, dirname(target));
  const staged = join(dirname(target), `.${randomUUID()}.part`);
  try {
    await mkdir(staged);
    for (const { path, xxh128 } of files) {
      const copy = join(staged, path);
      await mkdir(dirname(copy), { recursive: true });
      await copySynced(join(folder, path), copy);
      await syncFolder(dirname(copy));
      const { digests } = await hashFile(copy, ['xxh128'], { pastCache: true });
      if (digests.xxh128 !== xxh128) throw differs(join(target, path));
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

function differs(path: string): QuaysideError {
  return new QuaysideError({
    code: 'OUTPUT_COPY_DIFFERS',
    sentence: `What a plugin's step left and its copy at ${path} differ, so that copy is not kept. It is tried again by itself; look at that disk when it happens again.`,
    retry: 'later',
  });
}

import { constants } from 'node:fs';
import type { Digests, HashAlgorithm, ReadBackMethod } from '@quayside/shoot';
import { fileCalls } from '../direct-io/file-calls.ts';
import { openFromMedium } from '../direct-io/open-from-medium.ts';
import { diskPath } from '../names/disk-path.ts';
import { createWorkbench } from '../workbench/workbench.ts';
import { hashOpenFile } from './hash-open-file.ts';

export interface HashedFile {
  readonly digests: Digests;
  readonly sizeInBytes: number;
  readonly method: ReadBackMethod;
}

/** Kept for the whole process: its memory is never given back, so every file uses the same. */
const workbench = createWorkbench();

/**
 * Hashes one file of ours in this process. With `pastCache` the bytes come from the medium where that can be had, and
 * `method` says whether; without, from wherever they are nearest (`cached`).
 */
export async function hashFile(
  path: string,
  algorithms: readonly HashAlgorithm[],
  { pastCache }: { readonly pastCache: boolean },
): Promise<HashedFile> {
  const { fd, method } = pastCache
    ? await openFromMedium(diskPath(path))
    : { fd: await fileCalls.open(diskPath(path), constants.O_RDONLY), method: 'cached' as const };
  try {
    const { size } = await fileCalls.fstat(fd);
    const { digests, bytesRead } = await hashOpenFile(fd, { sizeInBytes: size, algorithms, workbench });
    return { digests, sizeInBytes: bytesRead, method };
  } finally {
    await fileCalls.close(fd);
  }
}

import { readdir } from 'node:fs/promises';
import type { Mount } from '@quayside/shoot';
import { ALIGNMENT_BYTES, allocateAligned } from '../direct-io/aligned-memory.ts';
import { errorCodeOf, fileCalls } from '../direct-io/file-calls.ts';
import { diskPath } from '../names/disk-path.ts';
import { nameFromBytes } from '../names/name-bytes.ts';
import type { OpenSource } from './open-source.ts';

const FILES_TO_ASK = 3;
const ENTRIES_TO_LOOK_AT = 200;

/**
 * After an I/O error: is it the file, or the whole drive? A pulled drive may stay mounted and answer from memory as long
 * as nobody asks for new bytes. True when not even the root can be listed, or none of the other files asked can be read.
 */
export async function isAllUnreadable(mount: Mount, openSource: OpenSource, exceptPath: string): Promise<boolean> {
  let asked = 0;
  try {
    for await (const path of otherFiles(mount, exceptPath)) {
      if (await isReadable(openSource, path)) return false;
      asked += 1;
      if (asked === FILES_TO_ASK) break;
    }
  } catch (error) {
    return errorCodeOf(error) === 'EIO';
  }
  return asked > 0;
}

async function isReadable(openSource: OpenSource, path: string): Promise<boolean> {
  try {
    const source = await openSource(path);
    try {
      await source.readAt(allocateAligned(ALIGNMENT_BYTES), 0);
      return true;
    } finally {
      await source.close();
    }
  } catch (error) {
    return errorCodeOf(error) !== 'EIO';
  }
}

/** Fails when the root cannot be listed. */
async function* otherFiles(mount: Mount, exceptPath: string): AsyncGenerator<string, void, undefined> {
  const namesIn = (folder: string): Promise<Buffer[]> => readdir(diskPath(mount.path, folder), { encoding: 'buffer' });
  const found = (await namesIn('')).map(nameFromBytes);
  for (let index = 0; index < Math.min(found.length, ENTRIES_TO_LOOK_AT); index += 1) {
    const path = found[index] ?? '';
    const stats = await fileCalls.lstat(diskPath(mount.path, path)).catch(() => null);
    if (stats?.isDirectory() === true) {
      const names = await namesIn(path).catch(() => []);
      found.push(...names.map((name) => `${path}/${nameFromBytes(name)}`));
    } else if (stats?.isFile() === true && stats.size > 0 && path !== exceptPath) yield path;
  }
}

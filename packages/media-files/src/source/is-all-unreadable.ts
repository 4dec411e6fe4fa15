import { readdir } from 'node:fs/promises';
import type { Mount } from '@quayside/shoot';
import { ALIGNMENT_BYTES, alignedLength, allocateAligned } from '../direct-io/aligned-memory.ts';
import { errorCodeOf, fileCalls } from '../direct-io/file-calls.ts';
import { diskPath } from '../names/disk-path.ts';
import { nameFromBytes } from '../names/name-bytes.ts';
import type { OpenSource } from './open-source.ts';

const FILES_TO_ASK = 3;
const ENTRIES_TO_LOOK_AT = 200;
/** Where a file is asked for bytes that stands alone on its drive, as shares of its size. */
const PLACES_TO_ASK = [0, 0.3, 0.6, 1];

/**
 * Whether a drive answers no read at all, say after an I/O error: is it the file, or the whole drive? A pulled drive may stay
 * mounted and answer from memory as long as nobody asks for new bytes. True when not even the root can be listed, or none of
 * the other files asked can be read, or where there is no other file, no place of that one.
 */
export async function isAllUnreadable(
  mount: Mount,
  openSource: OpenSource,
  exceptPath: string | null = null,
): Promise<boolean> {
  let asked = 0;
  try {
    for await (const path of otherFiles(mount, exceptPath)) {
      if (await isReadable(openSource, path, [0])) return false;
      asked += 1;
      if (asked === FILES_TO_ASK) break;
    }
  } catch (error) {
    return errorCodeOf(error) === 'EIO';
  }
  if (asked > 0 || exceptPath === null) return asked > 0;
  return !(await isReadable(openSource, exceptPath, PLACES_TO_ASK));
}

/** True when any of these places can be read, or none for another reason than an I/O error. */
async function isReadable(openSource: OpenSource, path: string, places: readonly number[]): Promise<boolean> {
  try {
    const source = await openSource(path);
    try {
      const { size } = await source.stat();
      const last = Math.max(alignedLength(size) - ALIGNMENT_BYTES, 0);
      const bytes = allocateAligned(ALIGNMENT_BYTES);
      for (const place of places) {
        const position = Math.floor((last * place) / ALIGNMENT_BYTES) * ALIGNMENT_BYTES;
        if (await answers(source.readAt(bytes, position))) return true;
      }
      return false;
    } finally {
      await source.close();
    }
  } catch (error) {
    return errorCodeOf(error) !== 'EIO';
  }
}

async function answers(read: Promise<number>): Promise<boolean> {
  return read.then(
    () => true,
    (error: unknown) => errorCodeOf(error) !== 'EIO',
  );
}

/** Fails when the root cannot be listed. */
async function* otherFiles(mount: Mount, exceptPath: string | null): AsyncGenerator<string, void, undefined> {
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

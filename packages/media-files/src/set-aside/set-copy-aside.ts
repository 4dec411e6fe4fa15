import type { Stats } from 'node:fs';
import { join } from 'node:path';
import { createDestinationFolder } from '../destination/create-destination-folder.ts';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { syncFolder } from '../durable/sync-folder.ts';
import { SET_ASIDE_FOLDER } from '../destination/destination-folders.ts';
import { baseNameOf, diskPath, folderOf } from '../names/disk-path.ts';
import { numberedName } from '../names/numbered-name.ts';

export interface BadCopy {
  /** The destination's root. */
  readonly root: string;
  readonly rollId: string;
  /** The roll's folder below the root. */
  readonly rollFolder: string;
  readonly storedPath: string;
  /** The file that was read, where that is known: another one that has its name by now is left alone. */
  readonly asRead?: Pick<Stats, 'ino' | 'ctimeMs'> | null;
}

const MOST_NUMBERS = 999;

/**
 * Moves a stored copy that failed its verification out of its roll, within the destination: nobody takes it for footage any
 * more, its name is free for the copy that replaces it, and it can be looked at until a person deletes it. Gives where it is
 * now, below the root. Durable when it returns; nothing that was set aside before is replaced.
 */
export async function setCopyAside({ root, rollId, rollFolder, storedPath, asRead = null }: BadCopy): Promise<string> {
  const wanted = `${SET_ASIDE_FOLDER}/${rollId}/${storedPath}`;
  const folder = folderOf(wanted);
  const from = diskPath(root, rollFolder, storedPath);
  // Where the destination has left, nothing may be made in its place.
  const { ino, ctimeMs } = await fileCalls.lstat(from);
  if (asRead !== null && (ino !== asRead.ino || ctimeMs !== asRead.ctimeMs))
    throw new Error(`${storedPath} is not the file that was read`);
  await createDestinationFolder(root, join(root, SET_ASIDE_FOLDER));
  await makeFolders(root, folder);
  for (let number = 1; number <= MOST_NUMBERS; number += 1) {
    const place = `${folder}/${numberedName(baseNameOf(wanted), number)}`;
    const to = diskPath(root, place);
    if ((await unlessCode(['ENOENT'], fileCalls.lstat(to))) !== null) continue;
    await fileCalls.rename(from, to);
    await syncFolder(diskPath(root, folder));
    await syncFolder(diskPath(root, rollFolder, folderOf(storedPath)));
    return place;
  }
  throw new Error(`${MOST_NUMBERS} copies of ${storedPath} are set aside already`);
}

/** Those below the folder for all that is set aside, which is there: where the destination has left by now, none is made. */
async function makeFolders(root: string, folder: string): Promise<void> {
  let parent = SET_ASIDE_FOLDER;
  for (const part of folder.slice(SET_ASIDE_FOLDER.length + 1).split('/')) {
    const path = `${parent}/${part}`;
    const isMade = await unlessCode(
      ['EEXIST'],
      fileCalls.mkdir(diskPath(root, path)).then(() => true),
    );
    if (isMade === true) await syncFolder(diskPath(root, parent));
    parent = path;
  }
}

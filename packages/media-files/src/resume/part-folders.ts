import { createHash } from 'node:crypto';
import { readdir, rm, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { syncFolder } from '../durable/sync-folder.ts';
import { JOURNAL_NAME, readPartJournal } from './part-journal.ts';

/** Below a destination's staging folder: the parts that nobody works on, each in a folder of its own. */
export const INTERRUPTED = 'interrupted';
export const PART_NAME = 'copy.part';
/** A drive may come back on another day; after so long its space is worth more. */
const KEPT_MS = 14 * 24 * 60 * 60 * 1000;
const IS_THERE = ['EEXIST', 'ENOTEMPTY'];
const IS_GONE = ['ENOENT', 'ENOTDIR'];
const KEY = /^[0-9a-f]{32}$/;

/** The parts that this process works on, by folder: nobody takes the same one twice. */
const inUse = new Set<string>();

/**
 * Takes the folder of a file's part into this process's staging folder, with what an earlier copy left in it; a new one
 * where there is none. Taking is one rename, so of two processes only one gets it. Null when it is in work here already.
 */
export async function takePart(stagingFolder: string, key: string): Promise<string | null> {
  const folder = join(stagingFolder, key);
  if (inUse.has(folder)) return null;
  inUse.add(folder);
  try {
    const resting = join(restingPlace(stagingFolder), key);
    await unlessCode([...IS_GONE, ...IS_THERE], fileCalls.rename(resting, folder));
    await unlessCode(['EEXIST'], fileCalls.mkdir(folder));
    await syncFolder(stagingFolder);
    return folder;
  } catch (error) {
    inUse.delete(folder);
    throw error;
  }
}

/** Leaves a part for whoever goes on with it. Never throws: a destination that is away keeps it where it lies. */
export async function leavePart(folder: string, stagingFolder: string): Promise<void> {
  await layToRest(folder, restingPlace(stagingFolder)).catch(() => undefined);
  inUse.delete(folder);
}

/** Removes a part that is done with. Never throws. */
export async function removePart(folder: string): Promise<void> {
  await rm(folder, { recursive: true, force: true }).catch(() => undefined);
  inUse.delete(folder);
}

/** Saves the parts in the staging folder of a process that died, so that the rest of it may be removed. */
export async function saveParts(deadFolder: string): Promise<void> {
  for (const name of (await unlessCode(IS_GONE, readdir(deadFolder))) ?? []) {
    if (!KEY.test(name)) continue;
    const folder = join(deadFolder, name);
    const journal = await readPartJournal(folder);
    if (journal !== null && journal.marks.length > 0) await layToRest(folder, restingPlace(deadFolder));
  }
}

/** Removes the parts that nobody has come back for in two weeks. */
export async function forgetOldParts(staging: string, nowMs: number): Promise<void> {
  for (const folder of await restingParts(staging)) {
    const found = await unlessCode(IS_GONE, stat(join(folder, JOURNAL_NAME)));
    if (found === null || nowMs - found.mtimeMs > KEPT_MS) await rm(folder, { recursive: true, force: true });
  }
}

/** The folders of the parts that nobody works on. */
export async function restingParts(staging: string): Promise<string[]> {
  const resting = join(staging, INTERRUPTED);
  const names = (await unlessCode(IS_GONE, readdir(resting))) ?? [];
  return names.filter((name) => KEY.test(name)).map((name) => join(resting, name));
}

/** Names the part of a file: the same file of the same roll finds it again, also when the roll's folder was moved. */
export function partKey(rollId: string, path: string): string {
  return createHash('sha256').update(`${rollId}\0${path}`).digest('hex').slice(0, 32);
}

/** Every process's staging folder lies beside it. */
function restingPlace(stagingFolder: string): string {
  return join(stagingFolder, '..', INTERRUPTED);
}

async function layToRest(folder: string, resting: string): Promise<void> {
  // Not with what is above it: where the destination has left, none of that may be made.
  await unlessCode(['EEXIST'], fileCalls.mkdir(resting));
  await syncFolder(dirname(resting));
  const place = join(resting, folder.slice(folder.lastIndexOf('/') + 1));
  const isFree = await unlessCode(
    IS_THERE,
    fileCalls.rename(folder, place).then(() => true),
  );
  // Two copies of one file were under way, which happens when a lock is lost; one part is enough.
  if (isFree === null) await rm(folder, { recursive: true, force: true });
  await syncFolder(resting);
}

import { constants, linkSync, unlinkSync } from 'node:fs';
import { type Digests, type FileEntry, QuaysideError } from '@quayside/shoot';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import type { SmallFileCalls } from '../direct-io/prompt-calls.ts';
import { algorithmsOf, firstDifference } from '../hashing/compare-digests.ts';
import { hashOpenFile } from '../hashing/hash-open-file.ts';
import { numberedName } from '../names/numbered-name.ts';
import type { Workbench } from '../workbench/workbench.ts';
import { type Desk, hasFileOfSize, pathAtDesk, wantedPlace, wantedPlaceNow } from './desk.ts';

/** A file of the source as it was read. */
export interface ReadFile {
  readonly file: FileEntry;
  readonly digests: Digests;
  readonly workbench: Workbench;
}

export interface Placed {
  readonly storedPath: string;
  /** True when a file of the same content had the name: that one stands, and the staged one is not needed. */
  readonly already: boolean;
}

const MOST_NUMBERS = 99;
const NO_LINKS = ['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK'];

/**
 * As `placeFile`, at once on this thread, where nothing is out of the ordinary: the folder is there and the name is free.
 * Else null, and nothing has changed.
 */
export function placeAtOnce(desk: Desk, stagedPath: string, file: FileEntry): Placed | null {
  const place = desk.known.isPrompt && desk.known.hasLinks ? wantedPlaceNow(desk, file) : null;
  if (place === null) return null;
  const { folder, name } = place;
  const storedPath = folder === '' ? name : `${folder}/${name}`;
  try {
    linkSync(stagedPath, pathAtDesk(desk, storedPath));
  } catch {
    return null;
  }
  try {
    unlinkSync(stagedPath);
  } catch {
    // A second name left in staging does no harm, and goes with the folder.
  }
  desk.folders.noteAdded(folder, name);
  desk.claims.set(storedPath, file.path);
  return { storedPath, already: false };
}

/** Gives a sealed file its name without ever replacing anything: the next number where other content has the name. */
export async function placeFile(desk: Desk, stagedPath: string, read: ReadFile): Promise<Placed> {
  const { folder, name } = await wantedPlace(desk, read.file);
  for (let number = 1; number <= MOST_NUMBERS; number += 1) {
    const numbered = numberedName(name, number);
    const storedPath = folder === '' ? numbered : `${folder}/${numbered}`;
    if (await takeName(desk, stagedPath, storedPath)) {
      desk.folders.noteAdded(folder, numbered);
      desk.claims.set(storedPath, read.file.path);
      return { storedPath, already: false };
    }
    if (await adoptTwin(desk, { folder, name: numbered, storedPath }, read)) return { storedPath, already: true };
  }
  throw new QuaysideError({
    code: 'NAME_TAKEN',
    sentence: `${read.file.path} was not stored at destination ${desk.destination.name}: ${MOST_NUMBERS} other files have its name. Clear up that folder and try again.`,
    retry: 'never',
  });
}

/** Looks for the same content under the name the file wants, or a numbered one, without staging anything. */
export async function findTwin(desk: Desk, read: ReadFile): Promise<Placed | null> {
  const { folder, name } = await wantedPlace(desk, read.file);
  for (let number = 1; number <= MOST_NUMBERS; number += 1) {
    const numbered = numberedName(name, number);
    const storedPath = folder === '' ? numbered : `${folder}/${numbered}`;
    if (await adoptTwin(desk, { folder, name: numbered, storedPath }, read)) return { storedPath, already: true };
    if ((await unlessCode(['ENOENT'], fileCalls.lstat(pathAtDesk(desk, storedPath)))) === null) return null;
  }
  return null;
}

/** True when the staged file has the name now; false when something had it before. */
async function takeName(desk: Desk, stagedPath: string, storedPath: string): Promise<boolean> {
  const path = pathAtDesk(desk, storedPath);
  if (desk.known.hasLinks) {
    const isTaken = await unlessCode(NO_LINKS, linkUnlessTaken(desk.known.calls, stagedPath, path));
    if (isTaken !== null) return !isTaken;
    desk.known.hasLinks = false;
  }
  return desk.known.placing.pass(async () => {
    if ((await unlessCode(['ENOENT'], fileCalls.lstat(path))) !== null) return false;
    await fileCalls.rename(stagedPath, path);
    return true;
  });
}

async function linkUnlessTaken(calls: SmallFileCalls, stagedPath: string, path: string | Buffer): Promise<boolean> {
  const linked = await unlessCode(
    ['EEXIST'],
    calls.link(stagedPath, path).then(() => true),
  );
  if (linked === null) return true;
  // A second name left in staging does no harm, and goes with the folder.
  await calls.unlink(stagedPath).catch(() => undefined);
  return false;
}

interface Candidate {
  readonly folder: string;
  readonly name: string;
  readonly storedPath: string;
}

/** True when the file at this place has the same content and nobody else's name; it is then synced and ours. */
async function adoptTwin(desk: Desk, candidate: Candidate, read: ReadFile): Promise<boolean> {
  const { folder, name, storedPath } = candidate;
  const { file, digests, workbench } = read;
  const owner = desk.claims.get(storedPath);
  if (owner !== undefined && owner !== file.path) return false;
  if (!(await hasFileOfSize(desk, storedPath, file.sizeInBytes))) return false;
  // A file system that folds case or Unicode forms finds another file under this name: that one is not ours.
  if (!(await desk.folders.namesIn(folder)).has(name)) return false;
  const fd = await fileCalls.open(pathAtDesk(desk, storedPath), constants.O_RDONLY | constants.O_NOFOLLOW);
  try {
    const found = await hashOpenFile(fd, {
      sizeInBytes: file.sizeInBytes,
      algorithms: algorithmsOf(digests),
      workbench,
    });
    if (firstDifference(digests, found.digests) !== null || found.bytesRead !== file.sizeInBytes) return false;
    await fileCalls.fsync(fd);
  } finally {
    await fileCalls.close(fd);
  }
  // Asked again after the reading: a twin in the same parcel may have claimed it meanwhile.
  const claimant = desk.claims.get(storedPath);
  if (claimant !== undefined && claimant !== file.path) return false;
  desk.claims.set(storedPath, file.path);
  desk.folders.noteAdded(folder, name);
  return true;
}

import type { Stats } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { QuaysideError, type VolumeListing } from '@quayside/shoot';
import { errorCodeOf, fileCalls } from '../direct-io/file-calls.ts';
import { diskPath } from '../names/disk-path.ts';
import { nameFromBytes } from '../names/name-bytes.ts';
import { forEachAtOnce } from '../workbench/for-each-at-once.ts';
import { createLitterMatcher } from './litter.ts';

export interface ListingOptions {
  readonly litter: readonly string[];
  readonly signal?: AbortSignal;
}

const LOOKS_AT_ONCE = 64;

/**
 * Lists a volume's regular files, sorted by path in code-unit order. Nothing is opened but folders and no link is followed.
 * What cannot be looked at is told, not thrown.
 * @throws QuaysideError `VOLUME_UNREADABLE` when the root itself cannot be read, or what the signal throws.
 */
export async function listVolume(root: string, { litter, signal }: ListingOptions): Promise<VolumeListing> {
  const walk: Walk = {
    root,
    device: await readRootDevice(root),
    isLitter: createLitterMatcher(litter),
    signal,
    listing: { files: [], litterCount: 0, specials: [], unreadable: [] },
  };
  const { listing } = walk;
  for (const folders = ['']; folders.length > 0;) folders.push(...(await listFolder(walk, folders.pop() ?? '')));
  listing.files.sort(byPath);
  listing.specials.sort(byPath);
  listing.unreadable.sort(byPath);
  return listing;
}

interface Walk {
  readonly root: string;
  readonly device: number;
  readonly isLitter: (name: string) => boolean;
  readonly signal: AbortSignal | undefined;
  readonly listing: VolumeListing;
}

/** Lists what lies in one folder, and gives the folders in it. */
async function listFolder(walk: Walk, folder: string): Promise<string[]> {
  const { listing, signal } = walk;
  signal?.throwIfAborted();
  const names = await readNames(walk, folder);
  const folders: string[] = [];
  await forEachAtOnce(names, LOOKS_AT_ONCE, async (name) => {
    const path = folder === '' ? name : `${folder}/${name}`;
    if (walk.isLitter(name) && !(name === RECOVERED && (await holdsAnything(walk, path)))) {
      listing.litterCount += 1;
      return;
    }
    try {
      const stats = await fileCalls.lstat(diskPath(walk.root, path));
      if (stats.isDirectory() && stats.dev === walk.device) folders.push(path);
      // What the volume has there, if anything, nobody can see.
      else if (stats.isDirectory()) listing.unreadable.push({ path, why: 'another file system is mounted there' });
      else if (stats.isFile()) listing.files.push({ path, sizeInBytes: stats.size, modifiedMs: stats.mtimeMs });
      else listing.specials.push({ path, kind: specialKind(stats) });
    } catch (error) {
      listing.unreadable.push({ path, why: whyOf(error) });
    }
  });
  return folders;
}

/** Every ext4 has this folder, empty and for root alone. What a check of the file system has put there was lost footage. */
const RECOVERED = 'lost+found';

async function holdsAnything({ root }: Walk, folder: string): Promise<boolean> {
  return readdir(diskPath(root, folder)).then(
    (names) => names.length > 0,
    // Who may not look in learns nothing; one that cannot be read for any other reason is listed, and told of as unreadable.
    (error: unknown) => !['EACCES', 'EPERM', 'ENOENT', 'ENOTDIR'].includes(errorCodeOf(error)),
  );
}

async function readNames({ root, listing }: Walk, folder: string): Promise<string[]> {
  try {
    return (await readdir(diskPath(root, folder), { encoding: 'buffer' })).map(nameFromBytes);
  } catch (error) {
    if (folder === '') throw unreadable(root, error);
    listing.unreadable.push({ path: folder, why: whyOf(error) });
    return [];
  }
}

async function readRootDevice(root: string): Promise<number> {
  try {
    return (await fileCalls.stat(diskPath(root))).dev;
  } catch (error) {
    throw unreadable(root, error);
  }
}

function unreadable(root: string, error: unknown): QuaysideError {
  return new QuaysideError(
    {
      code: 'VOLUME_UNREADABLE',
      sentence: `The volume at ${root} cannot be read (${whyOf(error)}). Check its cable and file system, and that the service may read it.`,
      retry: 'source',
    },
    { cause: error },
  );
}

function specialKind(stats: Stats): VolumeListing['specials'][number]['kind'] {
  if (stats.isSymbolicLink()) return 'link';
  if (stats.isSocket()) return 'socket';
  if (stats.isFIFO()) return 'pipe';
  if (stats.isBlockDevice() || stats.isCharacterDevice()) return 'device';
  return 'other';
}

function whyOf(error: unknown): string {
  return errorCodeOf(error) || String(error);
}

/** By code units, as `<` compares; a locale's order differs from machine to machine. */
function byPath(one: { readonly path: string }, other: { readonly path: string }): number {
  if (one.path === other.path) return 0;
  return one.path < other.path ? -1 : 1;
}

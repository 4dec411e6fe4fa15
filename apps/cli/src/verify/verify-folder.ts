import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import {
  DEFAULT_IGNORE,
  type FileVerdict,
  type Found,
  type History,
  ignoreMatcher,
  readHistory,
  verifyAgainst,
} from '@quayside/hash-lists';
import { hashFile, listVolume } from '@quayside/media-files';
import {
  type Digests,
  type FileEntry,
  type HashAlgorithm,
  QuaysideError,
  type ReadBackMethod,
  type VolumeListing,
} from '@quayside/shoot';

/** What the folder holds now, beside what its manifests record. */
export interface Verification {
  readonly root: string;
  readonly startedAt: string;
  readonly history: History;
  readonly verdicts: readonly FileVerdict[];
  readonly hashed: readonly HashedFile[];
  /** Files and folders that could not be read: nobody knows what they hold. */
  readonly unreadable: readonly { readonly path: string; readonly why: string }[];
  /** Links, pipes and the like. They are never followed, and no manifest records them. */
  readonly specials: VolumeListing['specials'];
}

export interface HashedFile extends FileEntry {
  readonly digests: Digests;
  readonly method: ReadBackMethod;
}

export interface VerifyControls {
  readonly signal: AbortSignal;
  readonly onProgress: (progress: {
    readonly path: string;
    readonly doneBytes: number;
    readonly totalBytes: number;
  }) => void;
}

/**
 * Reads every file of a roll folder back from the medium and compares it with the folder's manifests. Nothing is written.
 * @throws QuaysideError `FOLDER_MISSING`, `NO_MANIFEST`; what is wrong with single files or manifests is in the result.
 */
export async function verifyFolder(root: string, { signal, onProgress }: VerifyControls): Promise<Verification> {
  await throwIfNoFolder(root);
  const startedAt = new Date().toISOString();
  const history = await readHistory(root);
  if (history.generations.length === 0) throw noManifest(root, history);

  const listing = await listVolume(root, { litter: [], signal });
  const isIgnored = ignoreMatcher([...DEFAULT_IGNORE, ...history.ignore]);
  const files = listing.files.filter(({ path }) => !isIgnored(path));
  const totalBytes = files.reduce((sum, { sizeInBytes }) => sum + sizeInBytes, 0);
  let doneBytes = 0;
  const hashed: HashedFile[] = [];
  const unreadable = [...listing.unreadable];
  for (const file of files) {
    signal.throwIfAborted();
    onProgress({ path: file.path, doneBytes, totalBytes });
    try {
      const found = await hashFile(join(root, file.path), algorithmsFor(history, file.path), { pastCache: true });
      hashed.push({ ...file, ...found });
    } catch (error) {
      unreadable.push({ path: file.path, why: whyOf(error) });
    }
    doneBytes += file.sizeInBytes;
  }
  const unread = new Set(unreadable.map(({ path }) => path));
  const found = new Map<string, Found>(
    hashed.map(({ path, sizeInBytes, digests }) => [path, { sizeInBytes, digests }]),
  );
  const verdicts = verifyAgainst(history, found).filter(({ path }) => !unread.has(path));
  return { root, startedAt, history, verdicts, hashed, unreadable, specials: listing.specials };
}

/** Every algorithm that the file is recorded with; for a file without a record those that its neighbours have. */
function algorithmsFor(history: History, path: string): readonly HashAlgorithm[] {
  const recorded = history.files.get(path) ?? history.files.values().next().value;
  const algorithms = [...(recorded?.hashes.keys() ?? [])];
  return algorithms.length === 0 ? ['xxh128'] : algorithms;
}

async function throwIfNoFolder(root: string): Promise<void> {
  const found = await stat(root).catch(() => null);
  if (found?.isDirectory() === true) return;
  throw new QuaysideError({
    code: 'FOLDER_MISSING',
    sentence: `${root} is not a folder that is there. Name the folder of a roll at a destination, which is <destination>/<shoot>/<recorder>/<roll>.`,
    retry: 'never',
  });
}

function noManifest(root: string, { faults }: History): QuaysideError {
  const [fault] = faults;
  const why = fault === undefined ? 'There is no manifest' : `${fault.sentence} Nothing usable is`;
  return new QuaysideError({
    code: 'NO_MANIFEST',
    sentence: `${why} in ${join(root, 'ascmhl')}, so nothing can be compared. Name the folder of a roll at a destination, which is <destination>/<shoot>/<recorder>/<roll>.`,
    retry: 'never',
  });
}

function whyOf(error: unknown): string {
  if (error instanceof QuaysideError) return error.message;
  return error instanceof Error ? error.message : String(error);
}

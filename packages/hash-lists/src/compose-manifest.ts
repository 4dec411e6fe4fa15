import type { HashAlgorithm } from '@quayside/shoot';
import { type DirectoryHashes, directoryHashes } from './directory-hashes.ts';
import { isDigestText, WRITTEN_ORDER } from './digest-text.ts';
import { folderTree } from './folder-tree.ts';
import { ignoreMatcher } from './ignore-patterns.ts';
import type { FileRecord, FolderDigests, FolderRecord, Manifest } from './manifest.ts';
import type { NewFile, NewGeneration } from './new-generation.ts';
import { readableText, throwIfUnrecordable } from './recordable-path.ts';
import { throwContent } from './refusals.ts';
import { writableMs } from './xml-date.ts';

/**
 * The manifest of an operation, with its directory hashes when it is complete. `leftOut` has the paths that the ignore
 * patterns keep out of the record.
 * @throws QuaysideError `MANIFEST_NAME` or `MANIFEST_CONTENT` for what a manifest cannot or must not carry.
 */
export async function composeManifest(
  generation: NewGeneration,
  ignore: readonly string[],
): Promise<{ readonly manifest: Manifest; readonly leftOut: readonly string[] }> {
  const isIgnored = ignoreMatcher(ignore);
  const leftOut = generation.files.filter(({ path }) => isIgnored(path)).map(({ path }) => path);
  const files = generation.files
    .filter(({ path }) => !isIgnored(path))
    .map(fileRecord)
    .toSorted((one, other) => (one.path < other.path ? -1 : 1));
  if (files.length === 0) throwContent('there is no file to record');
  folderTree(files.map(({ path }) => [path, null]));
  ignore.forEach(throwIfBadPattern);

  const emptyFolders = (generation.emptyFolders ?? []).filter((path) => !isIgnored(`${path}/`));
  emptyFolders.forEach(throwIfUnrecordable);
  const directories = generation.complete ? await directoryRecords(files, emptyFolders) : { root: null, folders: [] };
  return {
    manifest: {
      startedAt: new Date(generation.startedAt).toISOString(),
      process: generation.process,
      creator: generation.creator,
      ignore,
      files,
      references: [],
      ...directories,
    },
    leftOut,
  };
}

function fileRecord(file: NewFile): FileRecord {
  throwIfUnrecordable(file.path);
  const algorithms = new Set(file.hashes.map(({ algorithm }) => algorithm));
  if (algorithms.size === 0) throwContent(`"${file.path}" has no hash`);
  if (algorithms.size < file.hashes.length) throwContent(`"${file.path}" has two hashes of one algorithm`);
  for (const { algorithm, value } of file.hashes) {
    if (!isDigestText(algorithm, value)) throwContent(`"${file.path}" has "${value}" as its ${algorithm}`);
  }
  if (!Number.isSafeInteger(file.sizeInBytes) || file.sizeInBytes < 0)
    throwContent(`"${file.path}" has the size ${file.sizeInBytes}`);
  if (file.previousPath !== undefined) throwIfUnrecordable(file.previousPath);
  return {
    path: file.path,
    sizeInBytes: file.sizeInBytes,
    modifiedMs: writableMs(file.modifiedMs),
    createdMs: file.createdMs === undefined ? null : writableMs(file.createdMs),
    hashes: file.hashes
      .map(({ algorithm, value, action, at }) => ({
        algorithm,
        value,
        action,
        at: at === undefined ? null : new Date(at).toISOString(),
      }))
      .toSorted((one, other) => WRITTEN_ORDER.indexOf(one.algorithm) - WRITTEN_ORDER.indexOf(other.algorithm)),
    previousPath: file.previousPath ?? null,
  };
}

function throwIfBadPattern(pattern: string): void {
  if (/[\r\n]/.test(pattern) || readableText(pattern) !== pattern)
    throwContent(`the ignore pattern ${JSON.stringify(pattern)} is not one line of plain text`);
}

async function directoryRecords(
  files: readonly FileRecord[],
  emptyFolders: readonly string[],
): Promise<{ readonly root: FolderDigests | null; readonly folders: readonly FolderRecord[] }> {
  const computed: (readonly [HashAlgorithm, DirectoryHashes])[] = [];
  for (const algorithm of sharedAlgorithms(files)) {
    const digests = files.map(({ path, hashes }) => ({
      path,
      digest: hashes.find((hash) => hash.algorithm === algorithm)?.value ?? '',
    }));
    computed.push([algorithm, await directoryHashes(digests, algorithm, emptyFolders)]);
  }
  const [first] = computed;
  if (first === undefined) return { root: null, folders: [] };

  const pair = (
    pick: (hashes: DirectoryHashes) => { content: string; structure: string } | undefined,
  ): FolderDigests => ({
    content: Object.fromEntries(computed.map(([algorithm, hashes]) => [algorithm, pick(hashes)?.content])),
    structure: Object.fromEntries(computed.map(([algorithm, hashes]) => [algorithm, pick(hashes)?.structure])),
  });
  const paths = [...first[1].folders.keys()].toSorted();
  return {
    root: pair(({ root }) => root),
    folders: paths.map((path) => ({ path, ...pair(({ folders }) => folders.get(path)), previousPath: null })),
  };
}

/** The published texts disagree on the order of xxh3 and xxh64 in one container: with both at hand, only xxh64 is written. */
function sharedAlgorithms(files: readonly FileRecord[]): HashAlgorithm[] {
  const shared = WRITTEN_ORDER.filter((algorithm) =>
    files.every(({ hashes }) => hashes.some((hash) => hash.algorithm === algorithm)),
  );
  return shared.includes('xxh64') ? shared.filter((algorithm) => algorithm !== 'xxh3') : shared;
}

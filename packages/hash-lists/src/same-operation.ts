import type { FileRecord, FolderDigests, Manifest } from './manifest.ts';

/**
 * Whether a manifest would say nothing new beside the latest one: the same files, hashes and actions; or, for one
 * operation that is tried again (the same start), the same files and hashes whatever the actions have become since. One that
 * counts alone is only ever the same as itself.
 */
export function saysNothingNew(latest: Manifest, next: Manifest, countsAlone: boolean): boolean {
  const isRetry = latest.startedAt !== null && latest.startedAt === next.startedAt;
  if (countsAlone && !isRetry) return false;
  return essence(latest, !isRetry) === essence(next, !isRetry);
}

function essence(manifest: Manifest, withActions: boolean): string {
  const { process, ignore, root, files, folders } = manifest;
  return JSON.stringify([
    process,
    ignore.toSorted(),
    root && folderEssence(root),
    folders.map((folder) => [folder.path, folderEssence(folder)].join()).toSorted(),
    files.map((file) => fileEssence(file, withActions)).toSorted(),
  ]);
}

function folderEssence({ content, structure }: FolderDigests): string {
  return JSON.stringify([content, structure].map((digests) => Object.entries(digests).map(String).toSorted()));
}

function fileEssence(file: FileRecord, withActions: boolean): string {
  const hashes = file.hashes.map(({ algorithm, value, action }) => [algorithm, value, withActions && action].join());
  const { path, sizeInBytes, modifiedMs, createdMs, previousPath } = file;
  return JSON.stringify([path, sizeInBytes, modifiedMs, createdMs, previousPath, hashes.toSorted()]);
}

import type { HashAlgorithm } from '@quayside/shoot';
import type { Generation, RecordedDigest, RecordedFile } from './history.ts';
import type { FileRecord, HashAction, HashRecord, Manifest } from './manifest.ts';

/** What the generations say of each file, under its latest path. Generations without a manifest are passed over. */
export function mergeGenerations(generations: readonly Generation[]): Map<string, RecordedFile> {
  const files = new Map<string, RecordedFile>();
  for (const { number, manifest } of generations) {
    if (manifest === null) continue;
    followRenames(files, manifest);
    for (const record of manifest.files) {
      if (record.hashes.length > 0) files.set(record.path, merged(files.get(record.path), record, number));
    }
  }
  return files;
}

/** All old paths leave before any new one is set, so that two files may swap their names in one generation. */
function followRenames(files: Map<string, RecordedFile>, manifest: Manifest): void {
  const moves = new Map<string, string>();
  const folders = manifest.folders
    .flatMap(({ path, previousPath }) => (previousPath === null ? [] : [{ path, previousPath }]))
    .toSorted((one, other) => other.previousPath.length - one.previousPath.length);
  if (folders.length > 0) {
    for (const path of files.keys()) {
      const folder = folders.find(({ previousPath }) => path.startsWith(`${previousPath}/`));
      if (folder !== undefined) moves.set(path, folder.path + path.slice(folder.previousPath.length));
    }
  }
  for (const { path, previousPath } of manifest.files) {
    if (previousPath !== null && files.has(previousPath)) moves.set(previousPath, path);
  }

  const moved = [...moves].map(([from, to]) => [to, files.get(from)] as const);
  for (const from of moves.keys()) files.delete(from);
  for (const [to, file] of moved) if (file !== undefined) files.set(to, file);
}

function merged(known: RecordedFile | undefined, record: FileRecord, generation: number): RecordedFile {
  const hashes = new Map<HashAlgorithm, RecordedDigest>(known?.hashes);
  const actions: HashAction[] = [];
  for (const hash of record.hashes) {
    const earlier = hashes.get(hash.algorithm);
    const action = hash.action ?? impliedAction(hash, earlier);
    actions.push(action);
    const isBetter = earlier === undefined || (earlier.action === 'failed' && action !== 'failed');
    if (isBetter) hashes.set(hash.algorithm, { value: hash.value, action, generation });
  }
  const failed = actions.includes('failed');
  const sizes = failed && known !== undefined ? known : record;
  return {
    sizeInBytes: sizes.sizeInBytes,
    modifiedMs: sizes.modifiedMs,
    hashes,
    lastAction: failed ? 'failed' : (actions[0] ?? 'original'),
    lastGeneration: generation,
    failed,
  };
}

/** The published schema lets a hash say nothing of its action; then the values say it. */
function impliedAction(hash: HashRecord, earlier: RecordedDigest | undefined): HashAction {
  if (earlier === undefined) return 'original';
  return earlier.value === hash.value ? 'verified' : 'failed';
}

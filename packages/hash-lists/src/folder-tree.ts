import { throwContent } from './refusals.ts';

/** One folder of a set of files. `path` is empty for the root. */
export interface Folder<Value> {
  readonly path: string;
  readonly files: Map<string, Value>;
  readonly folders: Map<string, Folder<Value>>;
}

/**
 * The folders that a set of files lies in.
 * @throws QuaysideError `MANIFEST_CONTENT` when one path is there twice, or is a file and a folder.
 */
export function folderTree<Value>(
  files: Iterable<readonly [path: string, value: Value]>,
  emptyFolders: Iterable<string> = [],
): Folder<Value> {
  const root: Folder<Value> = { path: '', files: new Map(), folders: new Map() };
  for (const [path, value] of files) {
    const { parent, name } = split(path);
    const folder = folderAt(root, parent);
    if (folder.files.has(name) || folder.folders.has(name)) throwContent(`"${path}" is there twice`);
    folder.files.set(name, value);
  }
  for (const path of emptyFolders) folderAt(root, path);
  return root;
}

function split(path: string): { readonly parent: string; readonly name: string } {
  const slash = path.lastIndexOf('/');
  return { parent: path.slice(0, Math.max(slash, 0)), name: path.slice(slash + 1) };
}

function folderAt<Value>(root: Folder<Value>, path: string): Folder<Value> {
  let folder = root;
  for (const name of path === '' ? [] : path.split('/')) {
    const known = folder.folders.get(name);
    if (known === undefined && folder.files.has(name)) throwContent(`"${path}" is both a file and a folder`);
    const next: Folder<Value> = known ?? {
      path: folder.path === '' ? name : `${folder.path}/${name}`,
      files: new Map(),
      folders: new Map(),
    };
    folder.folders.set(name, next);
    folder = next;
  }
  return folder;
}

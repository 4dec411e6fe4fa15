import { bytesFromName } from './name-bytes.ts';

/** What the file calls need to reach a path whose parts may hold bytes that are not UTF-8. */
export function diskPath(...parts: readonly string[]): string | Buffer {
  const path = parts.filter((part) => part !== '').join('/');
  return path.isWellFormed() ? path : bytesFromName(path);
}

/** The folder of a relative path, `''` at the top. */
export function folderOf(path: string): string {
  return path.slice(0, Math.max(0, path.lastIndexOf('/')));
}

/** The last part of a path. */
export function baseNameOf(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

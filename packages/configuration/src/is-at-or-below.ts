/** True when `path` is `folder` or lies in it. Both absolute and normalised; names are compared as they are written. */
export function isAtOrBelow(path: string, folder: string): boolean {
  return path === folder || path.startsWith(folder === '/' ? '/' : `${folder}/`);
}

import ignore from 'ignore';

/** What every history leaves out (ASC MHL specification v1.0, section 5.6.1.2), as published data writes it. */
export const DEFAULT_IGNORE: readonly string[] = ['.DS_Store', 'ascmhl', 'ascmhl/'];

/** The patterns of the next generation: over a history the list may only grow (section 5.6.1.2). */
export function growIgnore(...lists: readonly (readonly string[])[]): string[] {
  return [...new Set([...DEFAULT_IGNORE, ...lists.flat()])];
}

/** Tells whether a path below the history's root is left out. A folder's path ends in `/`; case counts. */
export function ignoreMatcher(patterns: readonly string[]): (path: string) => boolean {
  // Relative paths are allowed so that a file whose name merely starts with dots does not throw.
  const rules = ignore({ ignorecase: false, allowRelativePaths: true }).add(patterns);
  return (path) => path !== '' && rules.ignores(path);
}

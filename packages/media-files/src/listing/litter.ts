/**
 * What systems leave on every drive and nobody recorded: names, `*` for any characters, matched against each part of a
 * path. A folder that matches is left out with all that is in it.
 */
export const DEFAULT_LITTER: readonly string[] = [
  // macOS
  '.Trashes',
  '.Spotlight-V100',
  '.fseventsd',
  '.TemporaryItems',
  '.DocumentRevisions-V100',
  '.PKInstallSandboxManager*',
  '.apdisk',
  '.DS_Store',
  '._*',
  // Windows
  'System Volume Information',
  '$RECYCLE.BIN',
  'RECYCLER',
  'Thumbs.db',
  'desktop.ini',
  'IndexerVolumeGuid',
  'WPSettings.dat',
  // Linux
  '.Trash',
  '.Trash-*',
  'lost+found',
  // Recorders and phones, after a file system check
  'LOST.DIR',
];

/** Gives what says whether one part of a path is litter. */
export function createLitterMatcher(patterns: readonly string[]): (name: string) => boolean {
  const exact = new Set(patterns.filter((pattern) => !pattern.includes('*')));
  const globs = patterns.filter((pattern) => pattern.includes('*')).map(toExpression);
  return (name) => exact.has(name) || globs.some((glob) => glob.test(name));
}

function toExpression(pattern: string): RegExp {
  const literals = pattern.split('*').map((literal) => literal.replaceAll(/[.+?^${}()|[\]\\]/g, String.raw`\$&`));
  return new RegExp(`^${literals.join('.*')}$`, 's');
}

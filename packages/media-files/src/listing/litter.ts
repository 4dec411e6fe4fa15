/**
 * Gives what says whether one part of a path is litter: names, `*` for any characters. A folder that matches is left out
 * with all that is in it.
 */
export function createLitterMatcher(patterns: readonly string[]): (name: string) => boolean {
  const exact = new Set(patterns.filter((pattern) => !pattern.includes('*')));
  const globs = patterns.filter((pattern) => pattern.includes('*')).map(toExpression);
  return (name) => exact.has(name) || globs.some((glob) => glob.test(name));
}

function toExpression(pattern: string): RegExp {
  const literals = pattern.split('*').map((literal) => literal.replaceAll(/[.+?^${}()|[\]\\]/g, String.raw`\$&`));
  return new RegExp(`^${literals.join('.*')}$`, 's');
}

/**
 * A label pattern as written: `/.../` is a regular expression (matching anywhere unless anchored), all else is the whole
 * label with `*` for any run of characters and `?` for one. Case never counts, nor how an accent is composed.
 */
export function matchesLabel(pattern: string, label: string): boolean {
  return labelRegExp(pattern).test(fold(label));
}

/** @throws SyntaxError when the pattern is written as a regular expression and is none. */
export function labelRegExp(pattern: string): RegExp {
  if (isRegExpText(pattern)) return new RegExp(pattern.slice(1, -1).normalize('NFC'), 'iu');
  const parts = Array.from(fold(pattern)).map(
    (char) => WILD[char] ?? char.replace(/[\\^$.*+?()[\]{}|/]/, String.raw`\$&`),
  );
  return new RegExp(`^${parts.join('')}$`, 'su');
}

/** True for `/.../`; a label that really begins and ends with a slash cannot be written, and no file system has one. */
export function isRegExpText(pattern: string): boolean {
  return pattern.length > 2 && pattern.startsWith('/') && pattern.endsWith('/');
}

/**
 * A label that both patterns claim, or null when there is none. Exact for plain labels and for those with `*` and `?`;
 * two different regular expressions cannot be compared and give null.
 */
export function labelClaimedByBoth(one: string, other: string): string | null {
  if (fold(one) === fold(other)) return isRegExpText(one) ? one : exampleOf(one);
  if (isRegExpText(one) && isRegExpText(other)) return null;
  if (isRegExpText(one)) return isLiteral(other) && matchesLabel(one, other) ? other : null;
  if (isRegExpText(other)) return labelClaimedByBoth(other, one);
  return sharedText(Array.from(fold(one)), Array.from(fold(other)));
}

function fold(text: string): string {
  return text.normalize('NFC').toLowerCase();
}

function isLiteral(pattern: string): boolean {
  return !/[*?]/.test(pattern);
}

function exampleOf(glob: string): string {
  return glob.replaceAll('*', '').replaceAll('?', 'x');
}

/** A shortest text that both globs match: one step per pair of places in the two, so `*` against `*` stays cheap. */
function sharedText(one: readonly string[], other: readonly string[]): string | null {
  let shared = new Map<string, string>([['0,0', '']]);
  const seen = new Set<string>();
  while (shared.size > 0) {
    const next = new Map<string, string>();
    for (const [place, text] of shared) {
      if (seen.has(place)) continue;
      seen.add(place);
      const [i = 0, j = 0] = place.split(',').map(Number);
      if (i === one.length && j === other.length) return text;
      for (const step of stepsFrom(one, other, { i, j })) next.set(`${step.i},${step.j}`, text + step.char);
    }
    shared = next;
  }
  return null;
}

function stepsFrom(
  one: readonly string[],
  other: readonly string[],
  { i, j }: { readonly i: number; readonly j: number },
): { readonly i: number; readonly j: number; readonly char: string }[] {
  const a = one[i];
  const b = other[j];
  const steps = [];
  if (a === '*') steps.push({ i: i + 1, j, char: '' });
  if (b === '*') steps.push({ i, j: j + 1, char: '' });
  if (a === undefined || b === undefined) return steps;
  if (a === '*' && b !== '*') steps.push({ i, j: j + 1, char: b === '?' ? 'x' : b });
  if (b === '*' && a !== '*') steps.push({ i: i + 1, j, char: a === '?' ? 'x' : a });
  if (a !== '*' && b !== '*' && (a === b || a === '?' || b === '?')) {
    steps.push({ i: i + 1, j: j + 1, char: a !== '?' ? a : b !== '?' ? b : 'x' });
  }
  return steps;
}

const WILD: Readonly<Record<string, string>> = { '*': '.*', '?': '.' };

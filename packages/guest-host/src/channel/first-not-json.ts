const DEEPEST = 64;

/**
 * The place of the first thing in a value that JSON would lose or change, or that lies too deep; null when there is none.
 * What is `undefined` in an object counts as absent.
 */
export function firstNotJson(value: unknown, path: readonly string[] = []): string | null {
  if (path.length > DEEPEST) return `${path.slice(0, 3).join('.')}... (deeper than ${DEEPEST})`;
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return null;
  if (typeof value === 'number') return Number.isFinite(value) ? null : placeOf(path);
  if (Array.isArray(value)) return firstIn(value.entries(), path);
  if (typeof value !== 'object' || !isPlain(value)) return placeOf(path);
  return firstIn(
    Object.entries(value).filter(([, one]) => one !== undefined),
    path,
  );
}

function firstIn(entries: Iterable<readonly [unknown, unknown]>, path: readonly string[]): string | null {
  for (const [key, one] of entries) {
    const place = firstNotJson(one, [...path, String(key)]);
    if (place !== null) return place;
  }
  return null;
}

function placeOf(path: readonly string[]): string {
  return path.length === 0 ? 'the value itself' : path.join('.');
}

function isPlain(value: object): boolean {
  const prototype: unknown = Object.getPrototypeOf(value);
  return prototype === Object.prototype || prototype === null;
}

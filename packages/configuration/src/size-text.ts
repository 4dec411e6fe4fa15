const UNITS = ['B', 'KiB', 'MiB', 'GiB', 'TiB'] as const;
const SIZE = /^(\d+(?:\.\d+)?) ?(B|KiB|MiB|GiB|TiB)$/;

/**
 * Bytes in a size text such as `1 GiB` or `512 MiB`, or null when it is none. Only binary units (IEC 80000-13), since
 * `GB` means two different things to two people; fractions of a byte are rounded up.
 */
export function bytesOf(text: string): number | null {
  const [, amount, unit] = SIZE.exec(text.trim()) ?? [];
  if (amount === undefined || unit === undefined) return null;
  const bytes = Math.ceil(Number(amount) * 1024 ** UNITS.findIndex((name) => name === unit));
  return Number.isSafeInteger(bytes) ? bytes : null;
}

/** The shortest size text that stands for exactly this many bytes. */
export function sizeText(bytes: number): string {
  const exponent = UNITS.findLastIndex((_, power) => bytes >= 1024 ** power && bytes % 1024 ** power === 0);
  const power = Math.max(exponent, 0);
  return `${bytes / 1024 ** power} ${UNITS[power]}`;
}

/** Bytes in the unit that people compare drives in, powers of ten as drives are sold. */
export function showSize(bytes: number): string {
  if (bytes < 1000) return `${bytes} B`;
  const step = Math.min(Math.floor(Math.log10(bytes) / 3), UNITS.length);
  const value = bytes / 1000 ** step;
  return `${value < 10 ? value.toFixed(1) : Math.round(value)} ${UNITS[step - 1]}`;
}

const UNITS = ['kB', 'MB', 'GB', 'TB', 'PB'];

/** "1 file", "12 files". */
export function countOf(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? '' : 's'}`;
}

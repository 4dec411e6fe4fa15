const UNITS = ['B', 'kB', 'MB', 'GB', 'TB', 'PB'] as const;

/** Bytes in decimal units, as drives are sold and recorders count: `960 GB`, `1.5 TB`, `12.0 MB`. Rounded for reading. */
export function printBytes(bytes: number): string {
  let power = 0;
  let amount = bytes;
  while (amount >= 999.5 && power < UNITS.length - 1) {
    amount /= 1000;
    power += 1;
  }
  return `${power > 0 && amount < 99.95 ? amount.toFixed(1) : Math.round(amount)} ${UNITS[power]}`;
}

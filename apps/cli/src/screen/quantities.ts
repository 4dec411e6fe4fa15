const UNITS = ['B', 'KiB', 'MiB', 'GiB', 'TiB', 'PiB'] as const;

/** Bytes with a binary unit (IEC 80000-13) and at least two digits: `512 B`, `1.5 GiB`, `240 MiB`. */
export function sizeText(bytes: number): string {
  let power = 0;
  let amount = bytes;
  // At 1023.95 the rounded number would read 1024.0.
  while (amount >= 1023.95 && power < UNITS.length - 1) {
    amount /= 1024;
    power += 1;
  }
  const isShort = power > 0 && amount < 99.95;
  return `${isShort ? amount.toFixed(1) : Math.round(amount)} ${UNITS[power]}`;
}

/** Bytes in a size as it is printed on a drive (`960GB`, `1 TB`) or with a binary unit (`512 GiB`); null for anything else. */
export function driveSizeOf(text: string): number | null {
  const [, amount, unit = ''] = /^(\d+(?:\.\d+)?) ?([KMGTP]i?B|B)$/i.exec(text.trim()) ?? [];
  if (amount === undefined) return null;
  const power = 'bkmgtp'.indexOf(unit.charAt(0).toLowerCase());
  const bytes = Math.round(Number(amount) * (/i/i.test(unit) ? 1024 : 1000) ** power);
  return Number.isSafeInteger(bytes) && bytes > 0 ? bytes : null;
}

/** Seconds as a person says them, rounded up: `under a minute`, `3 min`, `1 h 20 min`. */
export function durationText(seconds: number): string {
  if (seconds < 60) return 'under a minute';
  const minutes = Math.ceil(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  const rest = minutes % 60;
  return rest === 0 ? `${minutes / 60} h` : `${Math.floor(minutes / 60)} h ${rest} min`;
}

/** A count with its noun: `1 file`, `12 files`. */
export function countText(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/** A moment in the clock of this machine: `2026-03-01 14:02`. */
export function momentText(instant: string): string {
  const at = new Date(instant);
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${two(at.getHours())}:${two(at.getMinutes())}`;
}

function two(value: number): string {
  return String(value).padStart(2, '0');
}

import type { Footage } from '../studio/recorder-drive.ts';
import type { LookedAt } from './look-at-copies.ts';

/**
 * What speaks against `clear`: per file of the drive that does not have, on two destinations, a stored file with its very
 * bytes that a sound manifest lists. Empty when `clear` is the truth.
 */
export function whatIsLacking(footage: Footage, copies: readonly LookedAt[]): readonly string[] {
  const lacking = [...footage].flatMap(([path, digest]) => {
    const holders = copies.filter((copy) => holds(copy, digest));
    if (holders.length >= 2) return [];
    return [
      `"${path}" is proven at ${holders.length} of 2 (${copies.map((copy) => stateOf(copy, path, digest)).join('; ')})`,
    ];
  });
  const faults = copies.flatMap((copy) => copy.faults);
  if (footage.size === 0) return ['the drive holds no file', ...faults];
  return [...lacking, ...faults];
}

/** Whether the same bytes lie there as a proven file, under whatever name they had to take. */
function holds({ stored, proven }: LookedAt, digest: string): boolean {
  return [...stored].some(([path, found]) => found === digest && proven.has(path));
}

function stateOf({ destination, stored, proven }: LookedAt, path: string, digest: string): string {
  const found = stored.get(path);
  if (found === undefined) return `absent at ${destination}`;
  if (found !== digest) return `other bytes at ${destination}`;
  return `${proven.has(path) ? 'proven' : 'not listed'} at ${destination}`;
}

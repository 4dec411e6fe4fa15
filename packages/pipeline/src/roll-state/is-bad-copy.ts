import type { HoldReason } from '@quayside/shoot';

/** Whether a reason says that a copy that was proven is bad or gone. */
export function isBadCopy({ code, destination }: HoldReason): boolean {
  return destination !== undefined && BAD.has(code);
}

const BAD: ReadonlySet<string> = new Set([
  'CHECKSUM_MISMATCH',
  'COPY_DAMAGED',
  'COPY_MISSING',
  'COPY_NOT_READ',
  'COPY_UNREADABLE',
  'SOURCE_NOT_AS_PROVEN',
]);

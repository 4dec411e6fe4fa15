import type { FileEntry } from '@quayside/shoot';

export interface KnownRoll {
  readonly id: string;
  readonly openedAt: string;
  readonly files: readonly FileEntry[];
}

/**
 * The roll that a volume's files go on with, or null for a new one. A volume that still holds a file of an earlier visit
 * (same path, size and time) was not formatted since: it is the same roll. Of several, the latest.
 */
export function matchRoll(files: readonly FileEntry[], known: readonly KnownRoll[]): string | null {
  const here = new Set(files.map(signature));
  const matches = known.filter((roll) => roll.files.some((file) => here.has(signature(file))));
  return matches.toSorted((a, b) => (a.openedAt < b.openedAt ? 1 : -1))[0]?.id ?? null;
}

function signature(file: FileEntry): string {
  return `${file.sizeInBytes}\u0000${file.modifiedMs}\u0000${file.path}`;
}

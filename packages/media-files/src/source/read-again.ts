import type { Digests, Failure, FileEntry } from '@quayside/shoot';
import { firstDifference } from '../hashing/compare-digests.ts';
import { readSource, type SourceReading } from './read-source.ts';

/**
 * Reads a file of a volume once more and holds it against what it gave the first time; null when that is the same. Bytes
 * come past the page cache where that can be had, as the first time. Its bytes are told as none: each counts once.
 * @throws QuaysideError `SOURCE_GONE`, or what the signal throws.
 */
export async function findOtherReading(
  file: FileEntry,
  digests: Digests,
  reading: SourceReading,
): Promise<Failure | null> {
  const again = await readSource(file, [], { ...reading, onBytes: () => reading.onBytes(0) });
  if ('failure' in again) return again.failure;
  const difference = firstDifference(digests, again.digests);
  return difference === null ? null : readsDiffer(file, `${difference} is not the same`);
}

/** The failure of a source that gives other bytes than when it was read before, though it is said not to have changed. */
export function readsDiffer({ path }: FileEntry, where: string): Failure {
  return {
    code: 'SOURCE_READS_DIFFER',
    sentence: `Two readings of ${path} gave different bytes (${where}), so no copy of it can be trusted. Do not record over this drive; try another reader or cable.`,
    retry: 'later',
  };
}

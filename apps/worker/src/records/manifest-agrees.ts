import type { History } from '@quayside/hash-lists';
import { HashAlgorithm } from '@quayside/shoot';
import type { RollRecord } from './roll-record.ts';

/** Whether the manifests say of a stored file what its record says: the same bytes, by every digest, with nothing failed since. */
export function manifestAgrees(
  file: Pick<RollRecord['files'][number], 'storedPath' | 'sizeInBytes' | 'digests'>,
  history: History,
): boolean {
  const listed = history.files.get(file.storedPath);
  if (listed === undefined || listed.failed || listed.sizeInBytes !== file.sizeInBytes) return false;
  const made = HashAlgorithm.options.filter((algorithm) => file.digests[algorithm] !== undefined);
  return made.length > 0 && made.every((algorithm) => listed.hashes.get(algorithm)?.value === file.digests[algorithm]);
}

import { createHash } from 'node:crypto';
import type { VolumeListing } from '@quayside/shoot';

/** A short digest of what a volume held: equal when the files' paths, sizes and times are. 32 hex characters. */
export function fingerprintOf(listing: Pick<VolumeListing, 'files'>): string {
  const hash = createHash('sha256');
  for (const { path, sizeInBytes, modifiedMs } of listing.files) {
    hash.update(`${JSON.stringify([path, sizeInBytes, modifiedMs])}\n`);
  }
  return hash.digest('hex').slice(0, 32);
}

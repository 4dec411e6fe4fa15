import type { Store } from '@quayside/job-queue';
import { type FileEntry, QuaysideError, type Roll } from '@quayside/shoot';

/** The files of a roll by parcel, as the view has them; null when the view has lost them, or others than the roll has. */
export async function filesInView(store: Store, roll: Roll): Promise<readonly (readonly FileEntry[])[] | null> {
  try {
    const files = await store.rollFiles(roll);
    let from = 0;
    const parcels = roll.parcels.map(({ fileCount }) => files.slice(from, (from += fileCount)));
    return from === files.length ? parcels : null;
  } catch (error) {
    if (error instanceof QuaysideError && error.code === 'PARCEL_UNKNOWN') return null;
    throw error;
  }
}

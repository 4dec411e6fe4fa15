import type { Store } from '@quayside/job-queue';
import { FolderName, type Roll } from '@quayside/shoot';

/** The roll that a run is about, by the run's id; null when none is known. A step and a roll's id may both hold hyphens. */
export async function rollOfRun(store: Pick<Store, 'roll'>, runId: string): Promise<Roll | null> {
  const words = runId.split('-');
  // The longest first: a roll's id may be the beginning of another one's.
  for (let end = words.length - 1; end > 1; end -= 1) {
    const id = words.slice(1, end).join('-');
    const roll = FolderName.safeParse(id).success ? await store.roll(id) : null;
    if (roll !== null) return roll;
  }
  return null;
}

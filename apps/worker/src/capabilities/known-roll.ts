import type { Store } from '@quayside/job-queue';
import { QuaysideError, type Roll } from '@quayside/shoot';

/** The roll of this id. @throws QuaysideError `UNKNOWN_ROLL` when the view does not know it, say after it was lost. */
export async function knownRoll(store: Store, rollId: string): Promise<Roll> {
  const roll = await store.roll(rollId);
  if (roll !== null) return roll;
  throw new QuaysideError({
    code: 'UNKNOWN_ROLL',
    sentence: `Roll ${rollId} is not known any more. Leave its drive connected, or connect it again: it is taken in anew.`,
    retry: 'never',
  });
}

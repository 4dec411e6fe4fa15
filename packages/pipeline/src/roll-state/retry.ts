import type { Failure, Instant, ParcelCopy, Roll, RollDestination } from '@quayside/shoot';
import { mapCopies } from './change-copies.ts';
import { unsettle } from './unsettle.ts';
import { wasSealed } from './was-sealed.ts';

/** One thing that failed at one destination: the copy of a parcel, or what concerns the destination as a whole. */
export interface Failed {
  readonly destination: string;
  readonly failure: Failure;
  readonly step: 'ingest' | 'checksum' | 'seal';
  /** Null for the destination as a whole. */
  readonly parcel: number | null;
}

/** Begins anew what failed for a reason that applies; the same roll when nothing did. Each try has a new identity. */
export function retry(roll: Roll, applies: (failed: Failed) => boolean, now: Instant): Roll {
  const isRetried = (copy: ParcelCopy, destination: string, parcel: number): boolean => {
    const step = failedStepOf(copy);
    return step !== null && copy.failure !== null && applies({ destination, failure: copy.failure, step, parcel });
  };
  const reopened = new Set(
    Object.entries(roll.destinations)
      .filter(
        ([name, destination]) =>
          isReopened(destination, name, applies) ||
          roll.parcels.some(({ index, copies }) =>
            Object.entries(copies).some(([at, copy]) => at === name && isRetried(copy, name, index)),
          ),
      )
      .map(([name]) => name),
  );
  if (reopened.size === 0) return roll;
  const retried: Roll = {
    ...roll,
    wasSealed: wasSealed(roll),
    parcels: roll.parcels.map((parcel) =>
      mapCopies(parcel, (copy, name) => (isRetried(copy, name, parcel.index) ? tryAgain(copy) : copy)),
    ),
    destinations: Object.fromEntries(
      Object.entries(roll.destinations).map(([name, destination]) => [
        name,
        reopened.has(name) ? reopen(destination) : destination,
      ]),
    ),
  };
  return unsettle(retried, 'IN_PROGRESS', now);
}

/** The step in which a copy failed; null when it has not. A state that does not tell yet tells it by what mends the failure. */
export function failedStepOf({ state, failure, failedIn }: ParcelCopy): 'ingest' | 'checksum' | null {
  if (state !== 'failed' || failure === null) return null;
  return failedIn ?? (failure.retry === 'copy' ? 'checksum' : 'ingest');
}

/** A destination that is skipped has taken nothing in; one that takes the roll and failed could not be sealed. */
function isReopened(
  { failure, standing }: RollDestination,
  destination: string,
  applies: (failed: Failed) => boolean,
): boolean {
  const step = standing === 'skipped' ? 'ingest' : 'seal';
  return failure !== null && applies({ destination, failure, step, parcel: null });
}

/** Under a new identity, so that its run is another one. */
export function tryAgain(copy: ParcelCopy): ParcelCopy {
  return { ...copy, state: 'absent', attempt: copy.attempt + 1, failure: null, failedIn: null };
}

/** A destination that takes the roll again, and is sealed anew when its copies rest. */
export function reopen(destination: RollDestination): RollDestination {
  return {
    ...destination,
    standing: 'taking',
    failure: null,
    sealedGeneration: null,
    sealAttempt: destination.sealAttempt + 1,
  };
}

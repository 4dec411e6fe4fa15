import type { Failure, Instant, ParcelCopy, Roll, RollDestination } from '@quayside/shoot';
import { isAtRest } from './activity.ts';
import { mapCopies } from './change-copies.ts';
import { unsettle } from './unsettle.ts';
import { wasSealed } from './was-sealed.ts';

/**
 * An operator's retry. Where nothing failed and the roll holds all the same (a copy that is gone, a manifest that was
 * altered), or where a destination could not be sealed (its ledger is gone), everything is gone through again: what is there
 * and proven is left as it is, so that costs little. A person who asks allows the repairs anew.
 */
export function retryOnRequest(roll: Roll, destination: string | null, now: Instant): Roll {
  const isMeant = (name: string): boolean => destination === null || destination === name;
  const retried = retry(roll, (_failure, name) => isMeant(name), now);
  if (retried !== roll) return allowRepairs(goThroughUnsealed(retried, roll, isMeant), isMeant);
  if (roll.clearance.verdict === 'clear' || !isAtRest(roll)) return roll;
  const again: Roll = {
    ...roll,
    wasSealed: wasSealed(roll),
    parcels: roll.parcels.map((parcel) => mapCopies(parcel, (copy, name) => (isMeant(name) ? anew(copy, roll) : copy))),
    destinations: Object.fromEntries(
      Object.entries(roll.destinations).map(([name, at]) => [name, isMeant(name) ? reopen(at) : at]),
    ),
  };
  return unsettle(again, 'IN_PROGRESS', now);
}

/** Sealing once more would find what it found: what is said to be proven there has no record, so it is looked at again. */
function goThroughUnsealed(retried: Roll, before: Roll, isMeant: (name: string) => boolean): Roll {
  const isUnsealed = (name: string): boolean => isMeant(name) && before.destinations[name]?.failure?.retry === 'never';
  return {
    ...retried,
    parcels: retried.parcels.map((parcel) =>
      mapCopies(parcel, (copy, name) => (isUnsealed(name) && copy.state === 'verified' ? anew(copy, retried) : copy)),
    ),
  };
}

/** With the drive away nothing can be taken from it: what was proven is read again, and what is bad made from another copy. */
function anew(copy: ParcelCopy, { mount }: Roll): ParcelCopy {
  const again = { ...tryAgain(copy), repairs: 0 };
  return mount === null && copy.state === 'verified' ? { ...again, state: 'written' } : again;
}

function allowRepairs(roll: Roll, isMeant: (name: string) => boolean): Roll {
  return {
    ...roll,
    parcels: roll.parcels.map((parcel) =>
      mapCopies(parcel, (copy, name) => (isMeant(name) ? { ...copy, repairs: 0 } : copy)),
    ),
  };
}

/** Under a new identity, so that its run is another one. */
export function tryAgain(copy: ParcelCopy): ParcelCopy {
  return { ...copy, state: 'absent', attempt: copy.attempt + 1, failure: null };
}

/** Begins anew what failed for a reason that applies; the same roll when nothing did. Each try has a new identity. */
export function retry(roll: Roll, applies: (failure: Failure, destination: string) => boolean, now: Instant): Roll {
  const isRetried = (copy: ParcelCopy, name: string): boolean =>
    copy.failure !== null && copy.state === 'failed' && applies(copy.failure, name);
  const reopened = new Set(
    Object.entries(roll.destinations)
      .filter(
        ([name, destination]) =>
          (destination.failure !== null && applies(destination.failure, name)) ||
          roll.parcels.some((parcel) =>
            Object.entries(parcel.copies).some(([at, copy]) => at === name && isRetried(copy, name)),
          ),
      )
      .map(([name]) => name),
  );
  if (reopened.size === 0) return roll;
  const retried: Roll = {
    ...roll,
    wasSealed: wasSealed(roll),
    parcels: roll.parcels.map((parcel) =>
      mapCopies(parcel, (copy, name) => (isRetried(copy, name) ? tryAgain(copy) : copy)),
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

/** A destination that takes the roll again, and is sealed anew when its copies rest. */
export function reopen(destination: RollDestination): RollDestination {
  return { standing: 'taking', failure: null, sealedGeneration: null, sealAttempt: destination.sealAttempt + 1 };
}

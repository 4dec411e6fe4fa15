import type { CopyState, Roll, RollActivity } from '@quayside/shoot';

/** What a roll is doing now, for people. A roll whose volume is away is `interrupted` until everything on it is proven. */
export function activityOf(roll: Roll): RollActivity {
  const isJudged = roll.judgementDue === roll.judged;
  if (roll.mount === null) return isAtRest(roll) && roll.clearance.verdict === 'clear' ? 'resting' : 'interrupted';
  const states = copyStates(roll);
  if (states.has('writing')) return 'copying';
  if (states.has('absent')) return states.size === 1 ? 'waiting' : 'copying';
  if (states.has('written')) return 'verifying';
  if (!isAtRest(roll)) return 'sealing';
  return isJudged ? 'resting' : 'judging';
}

/** True when every destination that takes the roll has nothing left to copy, to read back or to seal, or failed at it. */
export function isAtRest(roll: Roll): boolean {
  const states = copyStates(roll);
  if (states.has('absent') || states.has('writing') || states.has('written')) return false;
  return takingDestinations(roll).every((name) => isSealedOrFailed(roll, name));
}

/** The destinations that take this roll, in name order. */
export function takingDestinations(roll: Roll): readonly string[] {
  return Object.keys(roll.destinations)
    .filter((name) => roll.destinations[name]?.standing === 'taking')
    .toSorted();
}

function isSealedOrFailed(roll: Roll, name: string): boolean {
  const destination = roll.destinations[name];
  if (destination === undefined) return true;
  const isNothingToSeal = roll.parcels.every((parcel) => parcel.copies[name]?.state !== 'verified');
  return destination.sealedGeneration !== null || destination.failure !== null || isNothingToSeal;
}

function copyStates(roll: Roll): ReadonlySet<CopyState> {
  const taking = takingDestinations(roll);
  return new Set(roll.parcels.flatMap((parcel) => taking.map((name) => parcel.copies[name]?.state ?? 'absent')));
}

import type { ParcelCopy, Roll } from '@quayside/shoot';
import { bytesStillToCome } from '../intake/reserve-space.ts';
import { takingDestinations } from './activity.ts';
import { canBeJudged } from './verdict.ts';
import { wantedRuns } from './wanted-runs.ts';

/**
 * True when nothing will happen to a roll until somebody changes it: it cannot be judged, it asks for no run, no
 * destination keeps room for it, it waits for none to come back, and nothing of it is tried again by itself.
 */
export function maySleep(roll: Roll): boolean {
  return (
    !canBeJudged(roll) &&
    wantedRuns(roll).length === 0 &&
    destinationsWaitedFor(roll).length === 0 &&
    copiesToTryAgain(roll).length === 0 &&
    takingDestinations(roll).every((name) => bytesStillToCome(roll, name) === 0)
  );
}

/**
 * The copies that failed for a reason that may pass by itself and that can be made now: from the drive, or while that is away
 * from a proven copy.
 */
export function copiesToTryAgain(roll: Roll): readonly ParcelCopy[] {
  const taking = takingDestinations(roll);
  return roll.parcels.flatMap(({ copies }) => {
    const canBeMade = roll.mount !== null || taking.some((name) => copies[name]?.state === 'verified');
    if (!canBeMade) return [];
    return Object.values(copies).filter(({ state, failure }) => state === 'failed' && failure?.retry === 'later');
  });
}

/** The destinations that something of this roll waits for: it goes on by itself when they are there again. */
export function destinationsWaitedFor(roll: Roll): readonly string[] {
  return Object.keys(roll.destinations).filter(
    (name) =>
      roll.destinations[name]?.failure?.retry === 'destination' ||
      roll.parcels.some((parcel) => parcel.copies[name]?.failure?.retry === 'destination'),
  );
}

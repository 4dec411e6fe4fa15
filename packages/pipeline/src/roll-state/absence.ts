import type { Instant, Mount, Roll } from '@quayside/shoot';
import { mapCopies } from './change-copies.ts';
import { retry } from './retry.ts';
import { awayHold, type Absence, isAbsence, unsettle } from './unsettle.ts';

/**
 * Lets a roll go of its drive, and says why. What is written stays; what was being written begins anew, or is gone on with.
 * A drive that was only sought and is found to be gone has left.
 */
export function letGo(roll: Roll, absence: Absence, now: Instant): Roll {
  if (roll.mount === null && !(absence === 'VOLUME_AWAY' && isSought(roll))) return roll;
  const left: Roll = {
    ...roll,
    mount: null,
    // A service that starts looks for every drive: that is no news.
    absences: absence === 'VOLUME_SOUGHT' ? roll.absences : roll.absences + 1,
    parcels: roll.parcels.map((parcel) =>
      mapCopies(parcel, (copy) => (copy.state === 'writing' ? { ...copy, state: 'absent' } : copy)),
    ),
  };
  // A drive that was judged clear and then taken away stays clear: the verdict says when it was given. Whatever unsettles a
  // roll takes `clear` away at once, so one that stands is right, also when it was about to be looked at again.
  if (roll.clearance.verdict === 'clear') return { ...left, judged: left.judgementDue };
  const known = roll.clearance.reasons.filter(({ code }) => !PASSING.has(code) && !isAbsence(code));
  return { ...left, judged: left.judgementDue, clearance: awayHold(absence, known, now) };
}

export function volumeReturned(roll: Roll, mount: Mount, now: Instant): Roll {
  const back = unsettle({ ...roll, mount, clearedAt: null }, 'JUDGEMENT_DUE', now);
  return retry(back, ({ failure }) => failure.retry === 'later' || failure.retry === 'source', now);
}

/** Whether nobody knows yet if the drive is there, because the service has just started. */
export function isSought({ clearance }: Pick<Roll, 'clearance'>): boolean {
  return clearance.verdict === 'hold' && clearance.reasons[0]?.code === 'VOLUME_SOUGHT';
}

/** Reasons that only say that work goes on; they mean nothing once the drive is away. */
const PASSING: ReadonlySet<string> = new Set(['IN_PROGRESS', 'JUDGEMENT_DUE']);

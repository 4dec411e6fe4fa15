import type { Clearance, Failure, HoldReason, Instant, ParcelCopy, Roll } from '@quayside/shoot';
import { changeCopies } from './change-copies.ts';
import { isBadCopy } from './is-bad-copy.ts';
import { reopen, tryAgain } from './retry.ts';
import type { BadCopy } from './roll-event.ts';
import { awayHold, unsettle } from './unsettle.ts';
import { wasSealed } from './was-sealed.ts';

/**
 * A copy that failed. One that is bad or gone is made anew at once, as often as the roll allows; anything else, and what is
 * bad again after that, stays failed until its reason passes or a person sees to it.
 */
export function failCopy({ repairLimit }: Roll, copy: ParcelCopy, failure: Failure): ParcelCopy {
  if (failure.retry === 'copy' && copy.repairs < repairLimit) return { ...tryAgain(copy), repairs: copy.repairs + 1 };
  const wasThere = copy.state === 'written' || copy.state === 'verified';
  return { ...copy, state: 'failed', failure, failedIn: wasThere ? 'checksum' : 'ingest' };
}

/** Takes back that a copy is proven: a later look found it bad. Its destination is sealed anew, and `clear` is gone. */
export function takeBack(roll: Roll, { parcel, destination, failure }: BadCopy, now: Instant): Roll {
  const at = roll.destinations[destination];
  if (at === undefined || roll.parcels[parcel]?.copies[destination]?.state !== 'verified') return roll;
  const without = changeCopies(roll, parcel, (copy, name) =>
    name === destination ? failCopy(roll, copy, failure) : copy,
  );
  const reopened: Roll = {
    ...without,
    wasSealed: wasSealed(roll),
    destinations: { ...roll.destinations, [destination]: reopen(at) },
  };
  const reason = { code: failure.code, destination, sentence: failure.sentence };
  const unsettled = unsettle(keepVerdictTime(reopened), 'IN_PROGRESS', now);
  if (unsettled.mount === null && unsettled.clearedAt === null)
    return { ...unsettled, clearance: awayHold('VOLUME_AWAY', [reason], now) };
  const known = roll.clearance.verdict === 'hold' ? roll.clearance.reasons.filter(isBadCopy) : [];
  const others = known.filter((one) => one.code !== reason.code || one.destination !== destination);
  return { ...unsettled, clearance: addReasons(unsettled.clearance, [...others, reason]) };
}

/** That a drive was clear when it left stands, whatever becomes of a copy later: it is what the roll is judged by again. */
function keepVerdictTime(roll: Roll): Roll {
  const { mount, clearance } = roll;
  return mount === null && clearance.verdict === 'clear' ? { ...roll, clearedAt: clearance.judgedAt } : roll;
}

function addReasons(clearance: Clearance, reasons: readonly HoldReason[]): Clearance {
  return clearance.verdict === 'clear' ? clearance : { ...clearance, reasons: [...reasons, ...clearance.reasons] };
}

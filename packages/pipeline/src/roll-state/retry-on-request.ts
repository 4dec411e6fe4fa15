import type { Instant, ParcelCopy, Roll } from '@quayside/shoot';
import { isAtRest } from './activity.ts';
import { mapCopies } from './change-copies.ts';
import { reopen, retry, tryAgain, type Failed } from './retry.ts';
import type { RetryWish } from './roll-event.ts';
import { isAbsence, isPassing, unsettle } from './unsettle.ts';
import { canBeJudged } from './verdict.ts';
import { wasSealed } from './was-sealed.ts';

/**
 * An operator's retry: what failed, as far as it is wished, begins anew. Where nothing failed and the roll holds all the same
 * (a copy that is gone, a manifest that was altered), or where a destination could not be sealed (its ledger is gone),
 * everything is gone through again: what is there and proven is left as it is, so that costs little. A person who asks
 * allows the repairs anew. Facts are read again without touching the verdict, which they do not decide.
 */
export function retryOnRequest(roll: Roll, wish: RetryWish, now: Instant): Roll {
  const asked = readFactsAgain(roll, wish);
  const retried = retry(asked, (failed) => isWished(wish, failed), now);
  if (retried !== asked) return allowRepairs(goThroughUnsealed(retried, roll), wish);
  if (wish.step === 'clearance' && roll.clearance.verdict === 'hold') return judgeAgain(asked);
  return mayGoThrough(roll, wish) ? goThrough(asked, wish, now) : asked;
}

/** Has a roll judged again that can be judged and that has nothing else to do; the same roll otherwise. */
export function judgeAgain(roll: Roll): Roll {
  return !canBeJudged(roll) || roll.judgementDue > roll.judged || !isAtRest(roll)
    ? roll
    : { ...roll, judgementDue: roll.judgementDue + 1 };
}

function isWished({ destination, step, run }: RetryWish, failed: Failed): boolean {
  if (destination !== null && destination !== failed.destination) return false;
  if (step !== undefined && step !== failed.step) return false;
  return run === undefined || (run.parcel === failed.parcel && run.destinations.includes(failed.destination));
}

/** Facts are no destination's. What was found missing before is said again when it is still missing. */
function readFactsAgain(roll: Roll, { destination, step = 'probe', run }: RetryWish): Roll {
  if (destination !== null || step !== 'probe' || run !== undefined || !areFactsMissing(roll)) return roll;
  return { ...roll, facts: 'partly', findings: roll.findings.filter(({ code }) => code !== MISSING) };
}

const MISSING = 'FACTS_MISSING';

/** Whether the facts of a roll's clips were read and some could not be. */
export function areFactsMissing({ facts, findings }: Roll): boolean {
  return facts === 'read' && findings.some(({ code }) => code === MISSING);
}

/** Only for who asks for all of a roll: a filter names something that failed, and a thousand drives that are away wait for nothing here. */
function mayGoThrough(roll: Roll, { step, run, isOneOfMany = false }: RetryWish): boolean {
  const { clearance } = roll;
  if (clearance.verdict === 'clear' || step !== undefined || run !== undefined || !isAtRest(roll)) return false;
  return !isOneOfMany || clearance.reasons.some(({ code }) => !isAbsence(code) && !isPassing(code));
}

function goThrough(roll: Roll, { destination }: RetryWish, now: Instant): Roll {
  const isMeant = (name: string): boolean => destination === null || destination === name;
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
function goThroughUnsealed(retried: Roll, before: Roll): Roll {
  const isUnsealed = (name: string): boolean =>
    before.destinations[name]?.failure?.retry === 'never' && retried.destinations[name]?.failure === null;
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

function allowRepairs(roll: Roll, { destination, run }: RetryWish): Roll {
  const isMeant = (name: string, parcel: number): boolean =>
    (destination === null || destination === name) &&
    (run === undefined || (run.parcel === parcel && run.destinations.includes(name)));
  return {
    ...roll,
    parcels: roll.parcels.map((parcel) =>
      mapCopies(parcel, (copy, name) => (isMeant(name, parcel.index) ? { ...copy, repairs: 0 } : copy)),
    ),
  };
}

import {
  matterOf,
  QuaysideError,
  type Finding,
  type Instant,
  type ParcelCopy,
  type Roll,
  type RollDestination,
} from '@quayside/shoot';
import { letGo, volumeReturned } from './absence.ts';
import { isAtRest } from './activity.ts';
import { changeCopies } from './change-copies.ts';
import { noteFacts, noteOrder } from './facts-and-order.ts';
import { beginReread, endReread, giveUpReread, noteParcelReread } from './reread.ts';
import { failCopy, takeBack } from './repair.ts';
import { retry, tryAgain } from './retry.ts';
import { judgeAgain, retryOnRequest } from './retry-on-request.ts';
import type { ListedRoll, RollEvent } from './roll-event.ts';
import { takeOverRecord } from './take-over-record.ts';
import { hold, unsettle } from './unsettle.ts';
import { canBeJudged, noteVerdict } from './verdict.ts';
import { wasSealed } from './was-sealed.ts';

/**
 * The roll's state machine. Per parcel and destination:
 *
 *   absent --parcelStarted--> writing --parcelCopied--> written --parcelReadBack--> verified
 *      ^                         |    (parcelRecopied)     |                           |
 *      |                         +------ failure ----------+--> failed <--- found bad -+
 *      +-- volumeLeft (writing), retryRequested / destinationReturned (failed) --+
 *      +-- a failure that a fresh copy mends, as often as `repairLimit` says ----+
 *
 * Per destination: `sealedGeneration` is null until all its parcels rest and the manifest is written; any parcel that
 * starts again unseals it. Per roll: `judgementDue` exceeds `judged` while the verdict is out of date. Only `judged` can
 * bring `clear`, only when nothing happened since the judging began, and everything that unsettles a roll takes `clear` away.
 * Per destination also a `reread`, which goes through the proven parcels one by one and ends with a manifest of its own.
 * `facts` and `order` decide what is copied first, never whether it is safe.
 *
 * Pure: the same roll when the event changes nothing. `listed` and `recordFound` on null open a roll.
 */
export function advance(roll: Roll | null, event: RollEvent, now: Instant): Roll {
  if (event.type === 'listed') return list(roll, event.roll, now);
  if (event.type === 'recordFound') return takeOverRecord(roll, event.record, now);
  if (roll === null) {
    throw new QuaysideError({
      code: 'UNKNOWN_ROLL',
      sentence: `Something happened ("${event.type}") to a roll that the service does not know; its volume will be listed again.`,
      retry: 'never',
    });
  }
  const next = apply(roll, event, now);
  return next === roll ? roll : { ...next, changedAt: now };
}

function apply(roll: Roll, event: Exclude<RollEvent, { type: 'listed' | 'recordFound' }>, now: Instant): Roll {
  if ('visit' in event && event.visit !== roll.visit) return roll;
  switch (event.type) {
    case 'factsRead':
      return addFindings(noteFacts(roll, event.isComplete), event.findings);
    case 'ordered':
      return noteOrder(roll, event.order);
    case 'parcelStarted':
      return changeCopies(roll, event.parcel, (copy, name) =>
        event.destinations.includes(name) && copy.state === 'absent' ? { ...copy, state: 'writing' } : copy,
      );
    case 'parcelCopied':
      return addFindings(
        changeCopies(roll, event.parcel, (copy, name) => {
          const failure = event.outcome[name];
          if (failure === undefined || copy.state === 'verified') return copy;
          return failure === null ? written(copy) : failCopy(roll, copy, failure);
        }),
        event.findings,
      );
    case 'parcelRecopied':
      return addFindings(recopied(roll, event, now), event.findings);
    case 'parcelReadBack':
      return addFindings(
        changeCopies(roll, event.parcel, (copy, name) => {
          if (name !== event.destination || copy.state !== 'written') return copy;
          return event.failure === null
            ? { ...copy, state: 'verified', failure: null, failedIn: null }
            : failCopy(roll, copy, event.failure);
        }),
        event.findings,
      );
    case 'sealed':
      return changeSeal(roll, event, {
        sealedGeneration: event.generation,
        failure: null,
        ...(event.readBackAt !== undefined && { readBackAt: event.readBackAt }),
      });
    case 'sealFailed':
      return changeSeal(roll, event, { failure: event.failure });
    case 'rereadRequested':
      return beginReread(roll, event);
    case 'parcelReread':
      return addFindings(noteParcelReread(roll, event, now), event.findings);
    case 'rereadRecorded':
      return endReread(roll, event, now);
    case 'rereadFailed':
      return addFindings(giveUpReread(roll, event, now), event.findings);
    case 'judged':
      return judge(roll, event, now);
    case 'told':
      return { ...roll, told: event.matter };
    case 'parcelInterrupted':
      return changeCopies(roll, event.parcel, (copy, name) =>
        isToCome(copy) ? { ...copy, partBytes: event.partBytes[name] ?? copy.partBytes } : copy,
      );
    case 'volumeLeft':
      return letGo(roll, 'VOLUME_AWAY', now);
    case 'volumeSilent':
      return roll.mount?.mountId === event.mountId ? letGo(roll, 'VOLUME_SILENT', now) : roll;
    case 'volumeSought':
      return letGo(roll, 'VOLUME_SOUGHT', now);
    case 'volumeReturned':
      return volumeReturned(roll, event.mount, now);
    case 'destinationReturned':
      return retry(
        roll,
        ({ destination, failure }) => destination === event.destination && failure.retry === 'destination',
        now,
      );
    case 'volumeChanged':
      return unsettle({ ...roll, clearedAt: null }, 'VOLUME_CHANGED', now);
    case 'retryRequested':
      return retryOnRequest(roll, event, now);
    case 'retryDue':
      return retry(roll, ({ failure }) => failure.retry === 'later', now);
    case 'moveRequested':
      return moveTo(roll, event.shootId);
    case 'moved':
      return { ...roll, shootId: event.shootId, movingTo: null };
    case 'moveFailed':
      return addFindings({ ...roll, movingTo: null }, [event.finding]);
    case 'recheckRequested':
      return judgeAgain(roll);
  }
}

function list(roll: Roll | null, listed: ListedRoll, now: Instant): Roll {
  const { parcels, destinations, findings, ...facts } = listed;
  const names = Object.keys(destinations).toSorted();
  const opened: Roll = {
    ...facts,
    shootId: roll?.shootId ?? facts.shootId,
    movingTo: roll?.movingTo ?? null,
    visit: (roll?.visit ?? 0) + 1,
    wasSealed: roll !== null && wasSealed(roll),
    fileCount: parcels.reduce((sum, parcel) => sum + parcel.fileCount, 0),
    sizeInBytes: parcels.reduce((sum, parcel) => sum + parcel.sizeInBytes, 0),
    parcels: parcels.map((parcel, index) => ({
      ...parcel,
      index,
      copies: Object.fromEntries(names.map((name) => [name, { ...UNTOUCHED }])),
    })),
    destinations: Object.fromEntries(names.map((name) => [name, openDestination(destinations[name] ?? null)])),
    order: [],
    repairLimit: facts.repairLimit ?? USUAL_REPAIR_LIMIT,
    findings: [],
    clearance: hold('IN_PROGRESS', now),
    judgementDue: (roll?.judgementDue ?? 0) + 1,
    judged: roll?.judged ?? 0,
    clearedAt: null,
    told: roll?.told ?? null,
    absences: roll?.absences ?? 0,
    openedAt: roll?.openedAt ?? now,
    changedAt: now,
  };
  return addFindings(opened, findings);
}

const USUAL_REPAIR_LIMIT = 2;
const UNTOUCHED: ParcelCopy = {
  state: 'absent',
  attempt: 0,
  failure: null,
  failedIn: null,
  repairs: 0,
  partBytes: 0,
};

function written(copy: ParcelCopy): ParcelCopy {
  return { ...copy, state: 'written', failure: null, failedIn: null, partBytes: 0 };
}

function isToCome({ state }: ParcelCopy): boolean {
  return state === 'absent' || state === 'writing';
}

/** A copy that could not be taken because the one it was to be taken from is bad is not itself to blame. */
function recopied(roll: Roll, event: Extract<RollEvent, { type: 'parcelRecopied' }>, now: Instant): Roll {
  const { parcel, from, fromFailure: failure } = event;
  const next = changeCopies(roll, parcel, (copy, name) => {
    const own = event.outcome[name];
    if (own === undefined || copy.state === 'verified') return copy;
    if (own !== null) return failCopy(roll, copy, own);
    return failure === null ? written(copy) : tryAgain(copy);
  });
  return failure === null ? next : takeBack(next, { parcel, destination: from, failure }, now);
}

function openDestination(failure: RollDestination['failure']): RollDestination {
  const standing = failure === null ? 'taking' : 'skipped';
  return { standing, failure, sealedGeneration: null, sealAttempt: 0, readBackAt: null, reread: null };
}

function judge(roll: Roll, event: Extract<RollEvent, { type: 'judged' }>, now: Instant): Roll {
  // Something happened while the judge was looking: the judgement is about a state that has passed.
  if (event.due !== roll.judgementDue) return roll;
  if (event.clearance.verdict === 'clear' && !(canBeJudged(roll) && isAtRest(roll))) return roll;
  const judged = addFindings({ ...noteVerdict(roll, event.clearance), judged: event.due }, event.findings);
  return (event.bad ?? []).reduce((state, bad) => takeBack(state, bad, now), judged);
}

/** Only a roll that was never sealed moves: its manifests and records name the place where it was proven. */
function moveTo(roll: Roll, shootId: string): Roll {
  return wasSealed(roll) || shootId === roll.shootId ? roll : { ...roll, movingTo: shootId };
}

/** A seal of before a retry is let pass: the manifest that counts is made when the retried copies rest. */
function changeSeal(
  roll: Roll,
  event: { readonly destination: string; readonly attempt: number },
  change: Partial<RollDestination>,
): Roll {
  const destination = roll.destinations[event.destination];
  if (destination === undefined || destination.sealAttempt !== event.attempt) return roll;
  return { ...roll, destinations: { ...roll.destinations, [event.destination]: { ...destination, ...change } } };
}

function addFindings(roll: Roll, findings: readonly Finding[]): Roll {
  if (findings.length === 0) return roll;
  const matters = new Map([...roll.findings, ...findings].map((finding) => [matterOf(finding), finding]));
  return { ...roll, findings: [...matters.values()] };
}

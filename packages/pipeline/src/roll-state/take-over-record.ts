import type { Instant, ParcelCopy, Roll, RollDestination } from '@quayside/shoot';
import { isAtRest } from './activity.ts';
import { matterToTell } from './matter-to-tell.ts';
import type { RecordedRoll } from './roll-event.ts';
import { wantedRuns } from './wanted-runs.ts';

/**
 * What the records beside the footage say of a roll, taken over into the view, which had lost it or has fallen behind. It is
 * never a verdict: whatever is taken over holds until the drive is judged again. A roll that is under way is left as it is:
 * see `mayTakeOver`.
 */
export function takeOverRecord(roll: Roll | null, record: RecordedRoll, now: Instant): Roll {
  if (roll === null) return asTold(rollOf(record, now));
  if (!mayTakeOver(roll, record)) return roll;
  const { findings, absences, repairLimit } = roll;
  const judgementDue = roll.judgementDue + 1;
  return asTold({
    ...rollOf(record, now),
    visit: Math.max(roll.visit, record.visit),
    destinations: destinationsOf(record, roll),
    findings,
    absences,
    repairLimit,
    judgementDue,
    // That it is to be judged is settled for now: it can only wait for the drive.
    judged: judgementDue,
  });
}

/** That it is known again is news to nobody: else a thousand messages would follow a loss of Redis. */
function asTold(roll: Roll): Roll {
  return { ...roll, told: matterToTell(roll)?.matter ?? null };
}

/**
 * Whether a roll is in no state that is newer than its record: its drive is away, and either nothing of it is under way, or
 * nothing has happened to it since the record was written.
 */
export function mayTakeOver(roll: Roll, { sealedAt }: Pick<RecordedRoll, 'sealedAt'>): boolean {
  if (roll.mount !== null || roll.movingTo !== null) return false;
  const isUnderWay = !isAtRest(roll) || wantedRuns(roll).some(({ step }) => step !== 'notification');
  return !isUnderWay || roll.changedAt < sealedAt;
}

function rollOf(record: RecordedRoll, now: Instant): Roll {
  const { id, shootId, recorder, role, volume, visit, fingerprint, openedAt, repairLimit, parcels } = record;
  return {
    id,
    shootId,
    movingTo: null,
    wasSealed: true,
    recorder,
    role,
    volume,
    mount: null,
    visit,
    fingerprint,
    fileCount: parcels.reduce((sum, { fileCount }) => sum + fileCount, 0),
    sizeInBytes: parcels.reduce((sum, { sizeInBytes }) => sum + sizeInBytes, 0),
    litterCount: 0,
    parcels: parcels.map(({ provenAt, ...parcel }, index) => ({
      ...parcel,
      index,
      copies: Object.fromEntries(
        Object.keys(record.destinations).map((name) => [name, copyOf(provenAt.includes(name))]),
      ),
    })),
    destinations: destinationsOf(record, null),
    // They are looked for beside the footage; where those are missing, the drive is asked when it is back.
    facts: 'partly',
    order: [],
    repairLimit,
    findings: [],
    clearance: {
      verdict: 'hold',
      judgedAt: now,
      reasons: [
        {
          code: 'VOLUME_AWAY',
          sentence: 'What was known of this drive was read again from its copies. Connect it to have the verdict.',
        },
      ],
    },
    // A verdict that was given once is on no record.
    clearedAt: null,
    judgementDue: 0,
    judged: 0,
    told: null,
    absences: 0,
    openedAt,
    changedAt: now,
  };
}

function copyOf(isProven: boolean): ParcelCopy {
  const state = isProven ? 'verified' : 'absent';
  return { state, attempt: 0, failure: null, failedIn: null, repairs: 0, partBytes: 0 };
}

/** Sealed is what is proven there as a whole; what it lacks is made from another copy, and sealed then. */
function destinationsOf(record: RecordedRoll, known: Roll | null): Record<string, RollDestination> {
  return Object.fromEntries(
    Object.entries(record.destinations).map(([name, { generation, readBackAt }]) => {
      const isWhole = record.parcels.every(({ provenAt }) => provenAt.includes(name));
      const sealAttempt = (known?.destinations[name]?.sealAttempt ?? -1) + 1;
      const sealed = isWhole
        ? { sealedGeneration: generation, readBackAt }
        : { sealedGeneration: null, readBackAt: null };
      return [name, { standing: 'taking', failure: null, sealAttempt, reread: null, ...sealed }];
    }),
  );
}

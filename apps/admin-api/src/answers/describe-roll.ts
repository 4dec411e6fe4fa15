import type { RollProgress } from '@quayside/job-queue';
import { activityOf, failedStepOf, rollNumbers } from '@quayside/pipeline';
import type { CopyState, Roll } from '@quayside/shoot';
import type { DestinationAnswer, RollAnswer, RollDetail } from './roll-answer.ts';

/** After this long without news a rate says nothing about now. */
const RATE_GOES_STALE_AFTER_MS = 10_000;

/** A roll in the words of the API. `nowMs` only decides whether the last known rate is still worth telling. */
export function describeRoll(roll: Roll, progress: RollProgress | null, nowMs: number): RollAnswer {
  return {
    id: roll.id,
    shootId: roll.shootId,
    movingTo: roll.movingTo,
    recorder: roll.recorder,
    role: roll.role,
    volume: { key: roll.volume.key, label: roll.volume.label, fileSystem: roll.volume.fileSystem },
    drivePresent: roll.mount !== null,
    mountPath: roll.mount?.path ?? null,
    activity: activityOf(roll),
    visit: roll.visit,
    fileCount: roll.fileCount,
    sizeInBytes: roll.sizeInBytes,
    litterCount: roll.litterCount,
    progress: rollNumbers(roll, ofThisVisit(roll, progress, nowMs)),
    clearance: roll.clearance,
    judgementPending: roll.judgementDue > roll.judged,
    destinations: Object.fromEntries(
      Object.keys(roll.destinations).map((name) => [name, describeDestination(roll, name)]),
    ),
    findingCount: roll.findings.length,
    openedAt: roll.openedAt,
    changedAt: roll.changedAt,
  };
}

/** The same with what only the roll's own page shows. */
export function detailRoll(roll: Roll, progress: RollProgress | null, nowMs: number): RollDetail {
  return {
    ...describeRoll(roll, progress, nowMs),
    fingerprint: roll.fingerprint,
    parcelCount: roll.parcels.length,
    failures: roll.parcels.flatMap(({ index, firstPath, fileCount, copies }) =>
      Object.entries(copies).flatMap(([destination, copy]) => {
        const step = failedStepOf(copy);
        if (step === null || copy.failure === null) return [];
        const run = [step, roll.id, roll.visit, index, copy.attempt, destination].join('-');
        return [{ destination, parcel: index, firstPath, fileCount, step, run, failure: copy.failure }];
      }),
    ),
    findings: roll.findings,
  };
}

function ofThisVisit(roll: Roll, progress: RollProgress | null, nowMs: number): RollProgress | null {
  if (progress === null || progress.visit !== roll.visit) return null;
  const isStale = roll.mount === null || nowMs - progress.at > RATE_GOES_STALE_AFTER_MS;
  return isStale ? { ...progress, bytesPerSecond: 0 } : progress;
}

function describeDestination(roll: Roll, name: string): DestinationAnswer {
  const parcels: Record<CopyState, number> = { absent: 0, writing: 0, written: 0, verified: 0, failed: 0 };
  let verifiedFiles = 0;
  let verifiedBytes = 0;
  for (const parcel of roll.parcels) {
    const state = parcel.copies[name]?.state ?? 'absent';
    parcels[state] += 1;
    if (state !== 'verified') continue;
    verifiedFiles += parcel.fileCount;
    verifiedBytes += parcel.sizeInBytes;
  }
  const destination = roll.destinations[name];
  return {
    standing: destination?.standing ?? 'skipped',
    failure: destination?.failure ?? null,
    sealedGeneration: destination?.sealedGeneration ?? null,
    parcels,
    verifiedFiles,
    verifiedBytes,
    readBackAt: destination?.readBackAt ?? null,
    reread: destination?.reread ?? null,
  };
}

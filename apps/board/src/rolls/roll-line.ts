import type { RollAnswer } from '@quayside/admin-api/page-answers';
import type { RollDetail } from '../service/look-at-shoot.ts';
import { listWords } from '../words/list-words.ts';
import { countOf, showSize } from '../words/show-size.ts';

type Failed = Pick<RollDetail, 'failures'>;

/** A run that failed, in words. */
export interface FailedRun {
  readonly id: string;
  readonly what: string;
}

/** One roll as the list shows it. */
export interface RollLine {
  readonly id: string;
  readonly recorder: string;
  readonly activity: string;
  readonly size: string;
  readonly verdict: string;
  readonly isDrivePresent: boolean;
  /** How far it is at each destination, in words. */
  readonly places: readonly string[];
  /** What failed, a sentence each. */
  readonly failures: readonly string[];
  /** The runs that failed, where there are several: each can be tried again by itself. */
  readonly failedRuns: readonly FailedRun[];
  /** A retry would take something up again. */
  readonly canRetry: boolean;
  /** It is at rest and on hold with its drive there: it can be judged again. */
  readonly canJudge: boolean;
}

/** A roll in words. Its verdict is told as a fact of the past, with its time; only the board answers for now. */
export function rollLine(roll: RollAnswer, detail: Failed | null): RollLine {
  const failures = failuresOf(roll, detail);
  const isHeldAtRest = roll.activity === 'resting' && roll.clearance.verdict === 'hold';
  return {
    id: roll.id,
    recorder: roll.recorder,
    activity: roll.activity,
    size: `${countOf(roll.fileCount, 'file')}, ${showSize(roll.sizeInBytes)}`,
    verdict: roll.clearance.verdict === 'clear' ? 'clear' : `hold (${listWords(codesOf(roll))})`,
    isDrivePresent: roll.drivePresent,
    places: Object.entries(roll.destinations).map(([name, place]) => placeText(name, place, roll.fileCount)),
    failures,
    failedRuns: failedRunsOf(detail),
    // Copies that are gone or edited are no failures; a retry reads them, and makes them again.
    canRetry: failures.length > 0 || isHeldAtRest,
    canJudge: roll.drivePresent && isHeldAtRest,
  };
}

function failedRunsOf(detail: Failed | null): readonly FailedRun[] {
  const runs = new Map((detail?.failures ?? []).map((failure) => [failure.run, failure]));
  if (runs.size < 2) return [];
  return [...runs.values()].map(({ run, step, firstPath, fileCount, destination }) => {
    const files = fileCount === 1 ? firstPath : `${firstPath} and ${fileCount - 1} more`;
    return { id: run, what: `${step} of ${files} at ${destination}` };
  });
}

function codesOf({ clearance }: RollAnswer): readonly string[] {
  return clearance.verdict === 'hold' ? [...new Set(clearance.reasons.map(({ code }) => code))] : [];
}

function failuresOf(roll: RollAnswer, detail: Failed | null): readonly string[] {
  const ofDestinations = Object.values(roll.destinations).flatMap(({ failure }) => failure?.sentence ?? []);
  const ofParcels = (detail?.failures ?? []).map(({ failure }) => failure.sentence);
  const failed = Object.values(roll.destinations).reduce((sum, { parcels }) => sum + (parcels.failed ?? 0), 0);
  const known = [...new Set([...ofDestinations, ...ofParcels])];
  return known.length === 0 && failed > 0 ? [`${countOf(failed, 'copy')} failed.`] : known;
}

type Place = RollAnswer['destinations'][string];

function placeText(name: string, { standing, sealedGeneration, verifiedFiles }: Place, fileCount: number): string {
  if (standing === 'skipped') return `${name}: takes nothing of it`;
  const sealed = sealedGeneration === null ? '' : ', sealed';
  return `${name}: ${verifiedFiles} of ${fileCount} proven${sealed}`;
}

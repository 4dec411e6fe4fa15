import type { Failure, FileEntry } from '@quayside/shoot';
import type { CopyOutcome } from '@quayside/step-sdk/built-in';
import { firstDifference } from '../hashing/compare-digests.ts';
import { attemptCopies } from './attempt-copies.ts';
import type { Attempt, CopyReading, CopyTask } from './copy-task.ts';
import { readsDiffer } from '../source/read-again.ts';
import { type Desk, hasNameFree, hasNameTaken, knownCopy, noteTrouble } from './desk.ts';

/**
 * Brings some files to every desk that does not have them. Where the ledger proves a copy nothing is done; where it does
 * so at all desks, the source is not even opened. Gives one outcome per file and desk.
 */
export async function copyBatch(
  files: readonly FileEntry[],
  desks: readonly Desk[],
  reading: CopyReading,
): Promise<CopyOutcome[]> {
  const outcomes: CopyOutcome[] = [];
  const tasks: CopyTask[] = [];
  for (const file of files) {
    const wanting: Desk[] = [];
    for (const desk of desks) {
      const outcome = isNews(file, desk) ? null : await settleWithoutReading(file, desk, reading);
      if (outcome === null) wanting.push(desk);
      else outcomes.push(outcome);
    }
    if (wanting.length > 0) tasks.push(await planTask(file, wanting));
    else reading.onBytes(file.sizeInBytes);
  }
  await attemptCopies(tasks, reading);
  const again = tasks.flatMap(taskAgain);
  // A second reading, for copies whose sync failed and where the name turned out to be taken by other content. No third.
  if (again.length > 0) await attemptCopies(again, { ...reading, onBytes: () => undefined });
  return [...outcomes, ...tasks.flatMap((task) => outcomesOf(task, reading))];
}

function isNews({ path }: FileEntry, desk: Desk): boolean {
  return desk.stopped === null && !desk.ledger.files.has(path);
}

async function settleWithoutReading(
  file: FileEntry,
  desk: Desk,
  { algorithms, readsTwice }: CopyReading,
): Promise<CopyOutcome | null> {
  if (desk.stopped !== null) return failed(desk, file, desk.stopped);
  try {
    const known = await knownCopy(desk, file, { algorithms, readsTwice });
    if (known === null) return null;
    const { storedPath, digests } = known;
    return {
      path: file.path,
      destination: desk.destination.name,
      state: 'written',
      storedPath,
      digests,
      already: true,
    };
  } catch (error) {
    return failed(desk, file, noteTrouble(desk, error, file));
  }
}

async function planTask(file: FileEntry, desks: readonly Desk[]): Promise<CopyTask> {
  const staging: Desk[] = [];
  const comparing: Desk[] = [];
  for (const desk of desks) {
    const isTaken = hasNameFree(desk, file) ? false : await hasNameTaken(desk, file);
    (isTaken ? comparing : staging).push(desk);
  }
  return { file, staging, comparing, attempts: new Map(), isLast: false };
}

/** The same file once more for the desks that want it, sharing the attempts: a second one replaces the first. */
function taskAgain(task: CopyTask): CopyTask[] {
  const staging = [...task.attempts].flatMap(([desk, { kind }]) => (kind === 'again' ? [desk] : []));
  for (const desk of staging) task.attempts.delete(desk);
  return staging.length === 0 ? [] : [{ ...task, staging, comparing: [], isLast: true }];
}

function outcomesOf({ file, attempts }: CopyTask, { readsTwice }: CopyReading): CopyOutcome[] {
  const disagreement = findDisagreement(file, [...attempts.values()]);
  return [...attempts].map(([desk, attempt]) => outcomeOf(desk, { ...file, readsTwice }, disagreement ?? attempt));
}

/** Two readings of a file that is said not to have changed must agree, else the drive or its reader cannot be trusted. */
function findDisagreement(file: FileEntry, attempts: readonly Attempt[]): Attempt | null {
  const read = attempts.flatMap((attempt) => (attempt.kind === 'placed' ? [attempt.digests] : []));
  const [one] = read;
  if (one === undefined || read.every((digests) => firstDifference(one, digests) === null)) return null;
  return {
    kind: 'failed',
    failure: readsDiffer(file, 'in one run'),
  };
}

type ReadEntry = FileEntry & { readonly readsTwice: boolean };

function outcomeOf(desk: Desk, file: ReadEntry, attempt: Attempt): CopyOutcome {
  if (attempt.kind !== 'placed') return failed(desk, file, attempt.failure ?? NOT_MADE);
  const { placed, digests } = attempt;
  const { storedPath, already } = placed;
  const { path, sizeInBytes, modifiedMs, readsTwice } = file;
  desk.records.push({
    kind: 'written',
    path,
    storedPath,
    sizeInBytes,
    modifiedMs,
    digests,
    ...(readsTwice && { reads: 2 as const }),
    at: new Date().toISOString(),
  });
  return { path, destination: desk.destination.name, state: 'written', storedPath, digests, already };
}

const NOT_MADE: Failure = {
  code: 'DESTINATION_WRITE_FAILED',
  sentence: 'The copy could not be made, for a reason that was not given. Try again.',
  retry: 'later',
};

function failed(desk: Desk, file: FileEntry, failure: Failure): CopyOutcome {
  return { path: file.path, destination: desk.destination.name, state: 'failed', failure };
}

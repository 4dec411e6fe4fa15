import type { Digests, Failure } from '@quayside/shoot';
import type { Destination, ReadBackOutcome, WorkControls } from '@quayside/step-sdk';
import { destinationFailure } from '../destination/destination-failure.ts';
import { errorCodeOf } from '../direct-io/file-calls.ts';
import { openFileCalls } from '../direct-io/prompt-calls.ts';
import { openFromMedium } from '../direct-io/open-from-medium.ts';
import { algorithmsOf, firstDifference } from '../hashing/compare-digests.ts';
import { hashOpenFile } from '../hashing/hash-open-file.ts';
import type { LedgerRecord, StoredTimes } from '../ledger/ledger-record.ts';
import type { LedgerFile } from '../ledger/ledger-view.ts';
import { diskPath } from '../names/disk-path.ts';
import type { Workbench } from '../workbench/workbench.ts';

/** One stored copy and what the ledger says of it. */
export interface StoredCopy {
  readonly path: string;
  readonly record: LedgerFile;
  readonly rollFolder: string;
  readonly destination: Destination;
}

/** The outcome, and what the ledger should say of it now; null when it says so already. */
export interface ReadBackResult {
  readonly outcome: ReadBackOutcome;
  readonly record: LedgerRecord | null;
}

/** Reads one copy back from the medium and compares it with what the source gave. Every fault of the copy is an outcome. */
export async function readBackCopy(
  copy: StoredCopy,
  controls: WorkControls,
  workbench: Workbench,
): Promise<ReadBackResult> {
  const { path, record, rollFolder, destination } = copy;
  try {
    const { fd, method, stats } = await openFromMedium(diskPath(destination.root, rollFolder, record.storedPath));
    try {
      const times = { modifiedMs: stats.mtimeMs, changedMs: stats.ctimeMs };
      if (stats.size !== record.sizeInBytes) return failed(copy, wrongSize(copy, stats.size));
      if (isVerifiedAndUntouched(record, times)) {
        controls.onBytes(stats.size);
        const { storedPath, digests, method: provenBy = method } = record;
        return { outcome: { path, state: 'verified', storedPath, digests, method: provenBy }, record: null };
      }
      const algorithms = algorithmsOf(record.digests);
      const order = { sizeInBytes: stats.size, algorithms, workbench, ...controls };
      const { digests } = await hashOpenFile(fd, order);
      const difference = firstDifference(record.digests, digests);
      if (difference !== null) return failed(copy, mismatch(copy, difference, digests));
      const { storedPath } = record;
      return {
        outcome: { path, state: 'verified', storedPath, digests, method },
        record: { kind: 'verified', path, storedPath, digests, method, storedTimes: times, at: now() },
      };
    } finally {
      await openFileCalls.close(fd);
    }
  } catch (error) {
    controls.signal.throwIfAborted();
    return failed(copy, readingFailure(copy, error));
  }
}

/** Any write changes both times, and nobody can set the second one back. */
function isVerifiedAndUntouched({ state, storedTimes }: LedgerFile, times: StoredTimes): boolean {
  if (state !== 'verified' || storedTimes === undefined) return false;
  return storedTimes.modifiedMs === times.modifiedMs && storedTimes.changedMs === times.changedMs;
}

function failed({ path, record }: StoredCopy, failure: Failure): ReadBackResult {
  const { code, sentence, retry } = failure;
  const outcome: ReadBackOutcome = { path, state: 'failed', failure };
  // A destination that is away says nothing about the copies on it.
  if (retry === 'destination') return { outcome, record: null };
  return { outcome, record: { kind: 'failed', path, storedPath: record.storedPath, code, sentence, at: now() } };
}

function mismatch(copy: StoredCopy, algorithm: keyof Digests | 'none in common', found: Digests): Failure {
  const { path, record, destination } = copy;
  const known = algorithm === 'none in common' ? null : algorithm;
  const expectedText = known === null ? 'another digest' : `${known} ${record.digests[known]}`;
  const foundText = known === null ? 'none to compare' : String(found[known]);
  return {
    code: 'CHECKSUM_MISMATCH',
    sentence: `The copy of ${path} at destination ${destination.name} (${where(copy)}) is not what the drive gave: expected ${expectedText}, found ${foundText}. Do not record over the drive; retry the roll, and check that destination's disk.`,
    retry: 'never',
  };
}

function wrongSize(copy: StoredCopy, size: number): Failure {
  const { path, record, destination } = copy;
  return {
    code: 'CHECKSUM_MISMATCH',
    sentence: `The copy of ${path} at destination ${destination.name} (${where(copy)}) has ${size} bytes, expected ${record.sizeInBytes}. Do not record over the drive; retry the roll, and find out who changed that file.`,
    retry: 'never',
  };
}

/** The failure of a copy that is not where the ledger says, or of which the ledger says nothing. */
export function copyMissing(path: string, { name, root }: Destination, place: string): Failure {
  return {
    code: 'COPY_MISSING',
    sentence: `There is no copy of ${path} at destination ${name} (${root}${place}). Do not record over the drive; retry the roll to copy it again.`,
    retry: 'never',
  };
}

function readingFailure(copy: StoredCopy, error: unknown): Failure {
  const { path, rollFolder, record, destination } = copy;
  switch (errorCodeOf(error)) {
    case 'ENOENT':
    case 'ENOTDIR':
    case 'ELOOP':
      return copyMissing(path, destination, `/${rollFolder}/${record.storedPath}`);
    case 'EIO':
      return {
        code: 'COPY_UNREADABLE',
        sentence: `The copy of ${path} at destination ${destination.name} (${where(copy)}) cannot be read (EIO). Do not record over the drive; check that destination's disk, then retry the roll.`,
        retry: 'never',
      };
    default:
      return destinationFailure(error, destination, `The copy of ${path}`);
  }
}

function where({ destination, rollFolder, record }: StoredCopy): string {
  return `${destination.root}/${rollFolder}/${record.storedPath}`;
}

function now(): string {
  return new Date().toISOString();
}

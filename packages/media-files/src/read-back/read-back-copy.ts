import type { Stats } from 'node:fs';
import type { Digests, Failure, ReadBackMethod } from '@quayside/shoot';
import type { Destination, ReadBackOutcome, WorkControls } from '@quayside/step-sdk/built-in';
import { destinationFailure } from '../destination/destination-failure.ts';
import { errorCodeOf } from '../direct-io/file-calls.ts';
import { openFileCalls } from '../direct-io/prompt-calls.ts';
import { openFromMedium } from '../direct-io/open-from-medium.ts';
import { algorithmsOf, firstDifference } from '../hashing/compare-digests.ts';
import { hashOpenFile } from '../hashing/hash-open-file.ts';
import type { FoundCopy, LedgerRecord, StoredTimes } from '../ledger/ledger-record.ts';
import type { LedgerFile } from '../ledger/ledger-view.ts';
import { diskPath } from '../names/disk-path.ts';
import { setCopyAside } from '../set-aside/set-copy-aside.ts';
import type { Workbench } from '../workbench/workbench.ts';

/** One stored copy and what the ledger says of it. */
export interface StoredCopy {
  readonly path: string;
  readonly record: LedgerFile;
  readonly rollId: string;
  readonly rollFolder: string;
  readonly destination: Destination;
  /** Whether it is read though it was proven and its times say that nobody wrote to it since. */
  readonly isDoubted: boolean;
}

/** The outcome, and what the ledger should say of it now; null when it says so already. */
export interface ReadBackResult {
  readonly outcome: ReadBackOutcome;
  readonly record: LedgerRecord | null;
}

/**
 * Reads one copy back from the medium and compares it with what the source gave. Every fault of the copy is an outcome, and a
 * copy that is there and wrong is set aside.
 */
export async function readBackCopy(
  copy: StoredCopy,
  controls: WorkControls,
  workbench: Workbench,
): Promise<ReadBackResult> {
  const { path, record, rollFolder, destination } = copy;
  const { storedPath } = record;
  let asRead: Stats | null = null;
  try {
    const { fd, method, stats } = await openFromMedium(diskPath(destination.root, rollFolder, storedPath));
    asRead = stats;
    try {
      const times = { modifiedMs: stats.mtimeMs, changedMs: stats.ctimeMs };
      if (!copy.isDoubted && stats.size === record.sizeInBytes && isVerifiedAndUntouched(record, times)) {
        controls.onBytes(stats.size);
        const { digests, method: provenBy = method } = record;
        return { outcome: { path, state: 'verified', storedPath, digests, method: provenBy }, record: null };
      }
      const order = { sizeInBytes: stats.size, algorithms: algorithmsOf(record.digests), workbench, ...controls };
      const { digests } = await hashOpenFile(fd, order);
      const found = { sizeInBytes: stats.size, modifiedMs: stats.mtimeMs, digests };
      const fault = findFault(record, found);
      if (fault !== null) return await setAside(copy, mismatch(copy, fault), { asRead, found });
      return provenCopy(copy, { digests, method, stats });
    } finally {
      await openFileCalls.close(fd);
    }
  } catch (error) {
    controls.signal.throwIfAborted();
    const failure = readingFailure(copy, error);
    return failure.code === 'COPY_UNREADABLE'
      ? setAside(copy, failure, { asRead, found: null })
      : failed(copy, failure, null);
  }
}

/** The result for a copy that has been read back and is what the source gave. `stats` are of the file as it was opened. */
export function provenCopy(
  { path, record: { storedPath } }: StoredCopy,
  { digests, method, stats }: { readonly digests: Digests; readonly method: ReadBackMethod; readonly stats: Stats },
): ReadBackResult {
  const storedTimes = { modifiedMs: stats.mtimeMs, changedMs: stats.ctimeMs };
  return {
    outcome: { path, state: 'verified', storedPath, digests, method },
    record: { kind: 'verified', path, storedPath, digests, method, storedTimes, at: now() },
  };
}

/** In words, with what is expected and what is found; null when the copy is what the source gave. */
function findFault(record: LedgerFile, { sizeInBytes, digests }: FoundCopy): string | null {
  if (sizeInBytes !== record.sizeInBytes) return `expected ${record.sizeInBytes} bytes, found ${sizeInBytes}`;
  const difference = firstDifference(record.digests, digests);
  if (difference === null) return null;
  if (difference === 'none in common') return 'there is no digest to compare it by';
  return `expected ${difference} ${record.digests[difference]}, found ${digests[difference]}`;
}

/** Any write changes both times, and nobody can set the second one back. */
function isVerifiedAndUntouched({ state, storedTimes }: LedgerFile, times: StoredTimes): boolean {
  if (state !== 'verified' || storedTimes === undefined) return false;
  return storedTimes.modifiedMs === times.modifiedMs && storedTimes.changedMs === times.changedMs;
}

/** Where it cannot be moved away it is told all the same, and a new copy takes another name. */
async function setAside(
  copy: StoredCopy,
  failure: Failure,
  { asRead, found }: { readonly asRead: Stats | null; readonly found: FoundCopy | null },
): Promise<ReadBackResult> {
  const { record, rollId, rollFolder, destination } = copy;
  const bad = { root: destination.root, rollId, rollFolder, storedPath: record.storedPath, asRead };
  const place = await setCopyAside(bad).catch(() => null);
  const whereNow = place === null ? '' : ` It was set aside as ${destination.root}/${place}.`;
  return failed(copy, { ...failure, sentence: `${failure.sentence}${whereNow}` }, found);
}

function failed({ path, record }: StoredCopy, failure: Failure, found: FoundCopy | null): ReadBackResult {
  const { code, sentence, retry } = failure;
  const outcome: ReadBackOutcome = { path, state: 'failed', failure };
  // A destination that is away says nothing about the copies on it.
  if (retry === 'destination') return { outcome, record: null };
  const { storedPath } = record;
  const noted = { kind: 'failed' as const, path, storedPath, code, sentence, at: now() };
  return { outcome, record: found === null ? noted : { ...noted, found } };
}

function mismatch(copy: StoredCopy, fault: string): Failure {
  const { path, record, destination } = copy;
  const what = `The copy of ${path} at destination ${destination.name} (${where(copy)})`;
  // Its drive may have been recorded over long ago.
  const sentence =
    record.state === 'verified'
      ? `${what} is no longer what was proven: ${fault}. Check that destination's disk.`
      : `${what} is not what the drive gave: ${fault}. Do not record over the drive; check that destination's disk.`;
  return { code: 'CHECKSUM_MISMATCH', sentence, retry: 'copy' };
}

/** The failure of a copy that is not where the ledger says, or of which the ledger says nothing. */
export function copyMissing(path: string, { name, root }: Destination, place: string): Failure {
  return {
    code: 'COPY_MISSING',
    sentence: `There is no copy of ${path} at destination ${name} (${root}${place}). Do not record over the drive until it is copied again.`,
    retry: 'copy',
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
        sentence: `The copy of ${path} at destination ${destination.name} (${where(copy)}) cannot be read (EIO). Do not record over the drive; check that destination's disk.`,
        retry: 'copy',
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

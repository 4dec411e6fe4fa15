import type { Stats } from 'node:fs';
import type { Digests, Failure, FileEntry, HashAlgorithm, Mount } from '@quayside/shoot';
import type { WorkControls } from '@quayside/step-sdk/built-in';
import { errorCodeOf } from '../direct-io/file-calls.ts';
import type { ReadAt } from '../direct-io/read-ahead.ts';
import { fanOut, type Sink } from '../workbench/fan-out.ts';
import type { Workbench } from '../workbench/workbench.ts';
import type { OpenSource, SourceFile } from './open-source.ts';
import { isAllUnreadable } from './is-all-unreadable.ts';
import { readWithPatience, UnreadableError } from './read-with-patience.ts';
import { sourceChanged, sourceFailure } from './source-failure.ts';
import { sourceGone, throwIfSourceGone } from './source-presence.ts';

export interface SourceReading extends WorkControls {
  readonly mount: Mount;
  readonly openSource: OpenSource;
  readonly algorithms: readonly HashAlgorithm[];
  readonly workbench: Workbench;
}

/** A file that was read from its first byte to its last and did not change meanwhile; or why not. */
export type ReadOutcome = { readonly digests: Digests } | { readonly failure: Failure };

/**
 * Reads a file of a volume once, through the sinks and the hasher. It must be, before and after, what the listing says.
 * @throws QuaysideError `SOURCE_GONE`, or what the signal throws.
 */
export async function readSource(
  file: FileEntry,
  sinks: readonly Sink[],
  reading: SourceReading,
): Promise<ReadOutcome> {
  const { workbench, algorithms, signal, onBytes } = reading;
  const { sizeInBytes } = file;
  return withSource(file, reading, async ({ readAt }) =>
    workbench.hashers.lend(algorithms, async (hasher) => {
      const shelf = workbench.shelfFor(sizeInBytes);
      const poured = await fanOut(readAt, { sizeInBytes, shelf, sinks, hasher, signal, onBytes });
      return { ...poured, isAllWanted: !isEveryoneGone(sinks) };
    }),
  );
}

/** A file of a volume that is open, and was what the listing says when it was opened. */
export interface ListedSource {
  /** Tries again where a read fails. */
  readonly readAt: ReadAt;
  readonly changedMs: number;
}

export interface Poured {
  /** How many bytes are accounted for. */
  readonly bytesRead: number;
  readonly digests: Digests;
  /** False when nobody wants the bytes any more, so that it does not matter how many there were. */
  readonly isAllWanted: boolean;
}

/**
 * Opens a file of a volume for `read`, and looks before and after whether it is what the listing says.
 * @throws QuaysideError `SOURCE_GONE`, or what the signal throws.
 */
export async function withSource(
  file: FileEntry,
  { mount, openSource, signal }: SourceReading,
  read: (source: ListedSource) => Promise<Poured | { readonly failure: Failure }>,
): Promise<ReadOutcome> {
  signal.throwIfAborted();
  let source: SourceFile | null = null;
  try {
    source = await openSource(file.path);
    const changeBefore = findChange(await source.stat(), file);
    if (changeBefore !== null) return { failure: sourceChanged(file, mount, changeBefore) };
    const readAt = readWithPatience(source.readAt, async () => {
      signal.throwIfAborted();
      await throwIfSourceGone(mount);
    });
    const poured = await read({ readAt, changedMs: (await source.stat()).ctimeMs });
    if ('failure' in poured) return poured;
    const changeAfter = findChange(await source.stat(), file);
    if (changeAfter !== null) return { failure: sourceChanged(file, mount, changeAfter) };
    const { bytesRead, digests, isAllWanted } = poured;
    const isAllRead = bytesRead === file.sizeInBytes || !isAllWanted;
    return isAllRead ? { digests } : { failure: sourceChanged(file, mount, `it ended after ${bytesRead} bytes`) };
  } catch (error) {
    signal.throwIfAborted();
    const failure = await sourceFailure(error, mount, file);
    const isOfDrive = error instanceof UnreadableError || errorCodeOf(error) === 'EIO';
    if (isOfDrive && (await isAllUnreadable(mount, openSource, file.path))) {
      throw sourceGone(mount, 'no file on it can be read any more');
    }
    return { failure };
  } finally {
    await source?.close();
  }
}

/** True when there were sinks and each has failed. */
export function isEveryoneGone(sinks: readonly Sink[]): boolean {
  return sinks.length > 0 && sinks.every((sink) => sink.hasFailed());
}

/** What an open file is that the listing does not say, in words; null when it is still the one that was listed. */
export function findChange({ size, mtimeMs }: Pick<Stats, 'size' | 'mtimeMs'>, file: FileEntry): string | null {
  if (size !== file.sizeInBytes) return `${size} bytes, listed with ${file.sizeInBytes}`;
  if (mtimeMs !== file.modifiedMs) return `its time is ${new Date(mtimeMs).toISOString()}, not the one listed`;
  return null;
}

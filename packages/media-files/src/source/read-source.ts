import type { Digests, Failure, FileEntry, HashAlgorithm, Mount } from '@quayside/shoot';
import type { WorkControls } from '@quayside/step-sdk';
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
  const { mount, openSource, signal } = reading;
  signal.throwIfAborted();
  let source: SourceFile | null = null;
  try {
    source = await openSource(file.path);
    const changeBefore = await findChange(source, file);
    if (changeBefore !== null) return { failure: sourceChanged(file, mount, changeBefore) };
    const { bytesRead, digests } = await pourOut(source, { file, sinks, reading });
    const changeAfter = await findChange(source, file);
    if (changeAfter !== null) return { failure: sourceChanged(file, mount, changeAfter) };
    const isAllRead = bytesRead === file.sizeInBytes || isEveryoneGone(sinks);
    if (!isAllRead) return { failure: sourceChanged(file, mount, `it ended after ${bytesRead} bytes`) };
    return { digests };
  } catch (error) {
    signal.throwIfAborted();
    const failure = await sourceFailure(error, mount, file);
    if (error instanceof UnreadableError && (await isAllUnreadable(mount, openSource, file.path))) {
      throw sourceGone(mount, 'no file on it can be read any more');
    }
    return { failure };
  } finally {
    await source?.close();
  }
}

interface Pouring {
  readonly file: FileEntry;
  readonly sinks: readonly Sink[];
  readonly reading: SourceReading;
}

async function pourOut(source: SourceFile, { file, sinks, reading }: Pouring): ReturnType<typeof fanOut> {
  const { workbench, algorithms, mount, signal, onBytes } = reading;
  const { sizeInBytes } = file;
  const readAt = readWithPatience(source.readAt, async () => {
    signal.throwIfAborted();
    await throwIfSourceGone(mount);
  });
  return workbench.hashers.lend(algorithms, (hasher) =>
    fanOut(readAt, { sizeInBytes, shelf: workbench.shelfFor(sizeInBytes), sinks, hasher, signal, onBytes }),
  );
}

function isEveryoneGone(sinks: readonly Sink[]): boolean {
  return sinks.length > 0 && sinks.every((sink) => sink.hasFailed());
}

async function findChange(source: SourceFile, file: FileEntry): Promise<string | null> {
  const { size, mtimeMs } = await source.stat();
  if (size !== file.sizeInBytes) return `${size} bytes, listed with ${file.sizeInBytes}`;
  if (mtimeMs !== file.modifiedMs) return `its time is ${new Date(mtimeMs).toISOString()}, not the one listed`;
  return null;
}

import type { Failure } from '@quayside/shoot';
import { destinationFailure } from '../destination/destination-failure.ts';
import { errorCodeOf } from '../direct-io/file-calls.ts';
import { isWorthKeeping } from '../resume/block.ts';
import { markAlgorithm } from '../resume/marking-hasher.ts';
import { openPartSink } from '../resume/part-sink.ts';
import { readOn } from '../resume/read-on.ts';
import { findOtherReading } from '../source/read-again.ts';
import { type ReadOutcome, readSource, withSource } from '../source/read-source.ts';
import type { Sink } from '../workbench/fan-out.ts';
import { forEachAtOnce } from '../workbench/for-each-at-once.ts';
import type { Attempt, CopyReading, CopyTask, StagedCopy } from './copy-task.ts';
import { type Desk, noteTrouble } from './desk.ts';
import { type DeskSink, openDeskSink } from './desk-sink.ts';
import { findTwin, placeAtOnce, placeFile, type ReadFile } from './place-file.ts';
import { sealCopies } from './seal-copies.ts';
import { stagePromptly } from './stage-promptly.ts';
import { SealError } from './staged-file.ts';

/** A sync that fails so would fail again. */
const MEANS_NO_ROOM = ['ENOSPC', 'EDQUOT', 'EROFS'];
const READS_AT_ONCE = 16;
/** Names in one folder are given one after the other by the kernel anyway. */
const PLACED_AT_ONCE = 4;

/**
 * Reads each source once and brings every desk its copy: first all are staged, then all synced, then all named, so that
 * the syncs share the commits of the file system's journal. One desk's failure leaves the others alone.
 * @throws QuaysideError `SOURCE_GONE`, or what the signal throws; nothing staged is left then.
 */
export async function attemptCopies(tasks: readonly CopyTask[], reading: CopyReading): Promise<void> {
  const staged: StagedCopy[] = [];
  const toCompare: { readonly task: CopyTask; readonly desk: Desk; readonly read: ReadFile }[] = [];
  try {
    const readAndStage = async (task: CopyTask): Promise<void> => {
      const copies: StagedCopy[] = [];
      const stage = (sinks: readonly DeskSink[]): void => {
        copies.push(...sinks.map((sink) => ({ task, sink, read: null })));
        staged.push(...copies);
      };
      const outcome = isWorthKeeping(task.file.sizeInBytes)
        ? await readLarge(task, reading, stage)
        : await readAnew(task, reading, stage);
      if ('failure' in outcome) {
        failTask(task, outcome.failure);
        return;
      }
      const fault =
        reading.findFault(task.file, outcome.digests) ??
        (reading.readsTwice ? await findOtherReading(task.file, outcome.digests, reading) : null);
      if (fault !== null) {
        for (const { sink } of copies) sink.spoil();
        failTask(task, fault);
        return;
      }
      const read = { file: task.file, digests: outcome.digests, workbench: reading.workbench };
      await Promise.all(copies.map((copy) => completeCopy(copy, read)));
      for (const desk of task.comparing) toCompare.push({ task, desk, read });
    };
    await reading.readingTurn.pass(async () => {
      const left = await stagePromptly(tasks, reading, (copy) => staged.push(copy));
      await forEachAtOnce(left, READS_AT_ONCE, readAndStage);
    });
    const whole = staged.filter(({ task, sink, read }) => read !== null && !task.attempts.has(sink.desk));
    await sealCopies(
      whole.map((copy) => ({ file: copy.task.file, sink: copy.sink, fail: (error) => noteFailure(copy, error) })),
    );
    await forEachAtOnce(staged, PLACED_AT_ONCE, placeCopy);
    await forEachAtOnce(toCompare, PLACED_AT_ONCE, async ({ task, desk, read }) => {
      task.attempts.set(desk, await compareWithTwin(desk, read));
    });
  } finally {
    await forEachAtOnce(staged, PLACED_AT_ONCE, ({ sink }) => sink.discard());
  }
}

type Stage = (sinks: readonly DeskSink[]) => void;

async function readAnew(
  { file, staging, comparing }: CopyTask,
  reading: CopyReading,
  stage: Stage,
): Promise<ReadOutcome> {
  const sinks = await Promise.all(staging.map((desk) => openDeskSink(desk, file)));
  stage(sinks);
  return readSource(file, [...sinks, ...comparing.map(() => NOWHERE)], reading);
}

/** Goes on where an interrupted copy durably stands. */
async function readLarge(
  { file, staging, comparing }: CopyTask,
  reading: CopyReading,
  stage: Stage,
): Promise<ReadOutcome> {
  return withSource(file, reading, async ({ readAt, changedMs }) => {
    const algorithm = markAlgorithm(reading.algorithms);
    const parts = await Promise.all(staging.map((desk) => openPartSink(desk, file, { changedMs, algorithm })));
    stage(parts);
    return readOn({ file, parts, others: comparing.map(() => NOWHERE), readAt }, reading);
  });
}

/** Keeps the reading going to its end where only digests are wanted. */
const NOWHERE: Sink = { take: async () => undefined, hasFailed: () => false };

function failTask({ staging, comparing, attempts }: CopyTask, failure: Failure): void {
  for (const desk of [...staging, ...comparing]) attempts.set(desk, { kind: 'failed', failure });
}

async function completeCopy(copy: StagedCopy, read: ReadFile): Promise<void> {
  try {
    await copy.sink.staged().complete(read.file);
    copy.read = read;
  } catch (error) {
    noteFailure(copy, error);
  }
}

function noteFailure({ task, sink }: StagedCopy, error: unknown): void {
  const { attempts, file, isLast } = task;
  if (error instanceof SealError) sink.spoil();
  if (error instanceof SealError && !isLast && !MEANS_NO_ROOM.includes(errorCodeOf(error.cause))) {
    attempts.set(sink.desk, {
      kind: 'again',
      failure: destinationFailure(error.cause, sink.desk.destination, file.path),
    });
    return;
  }
  const cause = error instanceof SealError ? error.cause : error;
  attempts.set(sink.desk, { kind: 'failed', failure: noteTrouble(sink.desk, cause, file) });
}

async function placeCopy({ task, sink, read }: StagedCopy): Promise<void> {
  const { attempts, file } = task;
  const { desk } = sink;
  if (attempts.has(desk) || read === null) return;
  try {
    const stagedPath = sink.staged().path;
    const placed = placeAtOnce(desk, stagedPath, file) ?? (await placeFile(desk, stagedPath, read));
    if (placed.already) sink.spoil();
    else sink.keep();
    attempts.set(desk, { kind: 'placed', placed, digests: read.digests });
  } catch (error) {
    attempts.set(desk, { kind: 'failed', failure: noteTrouble(desk, error, file) });
  }
}

async function compareWithTwin(desk: Desk, read: ReadFile): Promise<Attempt> {
  try {
    const placed = await findTwin(desk, read);
    return placed === null ? { kind: 'again', failure: null } : { kind: 'placed', placed, digests: read.digests };
  } catch (error) {
    return { kind: 'failed', failure: noteTrouble(desk, error, read.file) };
  }
}

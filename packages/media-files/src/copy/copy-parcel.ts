import type { Failure, FileEntry } from '@quayside/shoot';
import type { CopyOutcome, CopyRequest, Destination, WorkControls } from '@quayside/step-sdk/built-in';
import { destinationFailure } from '../destination/destination-failure.ts';
import type { DestinationMemory } from '../destination/destination-memory.ts';
import { createPace } from '../direct-io/pace.ts';
import { createSourceOpener, type SourceOpener } from '../source/open-source.ts';
import { throwIfSourceGone } from '../source/source-presence.ts';
import { forEachAtOnce } from '../workbench/for-each-at-once.ts';
import { createGate } from '../workbench/gate.ts';
import type { Workbench } from '../workbench/workbench.ts';
import { batchesOf } from './batches-of.ts';
import type { CopyReading } from './copy-task.ts';
import { copyBatch } from './copy-batch.ts';
import { type Desk, openDesk, settleDesk } from './desk.ts';

/** What a process works with for every parcel. */
export interface CopyTools {
  readonly workbench: Workbench;
  readonly memory: DestinationMemory;
}

/** While one batch is synced the next is read already, and a third waits to be. */
const BATCHES_AT_ONCE = 3;

/**
 * Copies a parcel as `Footage.copy` promises. Names and ledger are made durable once, at the end, also when the source goes
 * away half-way.
 */
export async function copyParcel(
  request: CopyRequest,
  controls: WorkControls,
  tools: CopyTools,
): Promise<CopyOutcome[]> {
  const { mount } = request;
  await throwIfSourceGone(mount);
  const readsTwice = request.reads === 'twice';
  const opener = createSourceOpener(mount);
  // The prompt way reads once.
  const opening = readsTwice ? { ...opener, openPromptly: () => null } : opener;
  const source = { mount, ...opening, findFault: () => null, readsTwice };
  return copyFrom(source, request, { ...tools, ...controls });
}

/** Where the bytes come from. */
export type CopySource = SourceOpener & Pick<CopyReading, 'mount' | 'findFault' | 'readsTwice'>;

/** Copies files to destinations from wherever they can be read. */
export async function copyFrom(
  source: CopySource,
  request: Omit<CopyRequest, 'mount'>,
  { workbench, memory, ...controls }: CopyTools & WorkControls,
): Promise<CopyOutcome[]> {
  const { roll, files, destinations, algorithms } = request;
  const opened = await Promise.all(
    destinations.map(async (destination) => ({ destination, desk: await openDesk({ destination, roll, memory }) })),
  );
  const desks = opened.flatMap(({ desk }) => ('code' in desk ? [] : [desk]));
  const outcomes: CopyOutcome[] = opened.flatMap(({ destination, desk }) =>
    'code' in desk ? files.map((file) => failed(file, destination, desk)) : [],
  );
  const reading: CopyReading = {
    ...source,
    ...controls,
    algorithms,
    workbench,
    pace: createPace(),
    readingTurn: createGate(1),
  };
  try {
    if (desks.length === 0) return outcomes;
    await forEachAtOnce(batchesOf(files), BATCHES_AT_ONCE, async (batch) => {
      outcomes.push(...(await copyBatch(batch, desks, reading)));
    });
  } finally {
    const unsettled = await Promise.all(desks.map((desk) => findSettlingTrouble(desk, roll.id)));
    failUnsettled(outcomes, unsettled);
  }
  return inOrder(outcomes, request);
}

async function findSettlingTrouble(desk: Desk, rollId: string): Promise<{ desk: Desk; failure: Failure } | null> {
  try {
    await settleDesk(desk, rollId);
    return null;
  } catch (error) {
    return { desk, failure: destinationFailure(error, desk.destination, `The record of roll ${rollId}`) };
  }
}

/** Where names or records could not be made durable, nothing of this parcel counts as written; another run finds it and adopts it. */
function failUnsettled(outcomes: CopyOutcome[], troubles: readonly ({ desk: Desk; failure: Failure } | null)[]): void {
  for (const trouble of troubles) {
    if (trouble === null) continue;
    const { name } = trouble.desk.destination;
    outcomes.forEach((outcome, index) => {
      if (outcome.destination !== name || outcome.state === 'failed') return;
      outcomes[index] = { path: outcome.path, destination: name, state: 'failed', failure: trouble.failure };
    });
  }
}

function failed(file: FileEntry, destination: Destination, failure: Failure): CopyOutcome {
  return { path: file.path, destination: destination.name, state: 'failed', failure };
}

function inOrder(
  outcomes: readonly CopyOutcome[],
  { files, destinations }: Pick<CopyRequest, 'files' | 'destinations'>,
): CopyOutcome[] {
  const byKey = new Map(outcomes.map((outcome) => [`${outcome.destination}\0${outcome.path}`, outcome]));
  return files.flatMap(({ path }) => destinations.flatMap(({ name }) => byKey.get(`${name}\0${path}`) ?? []));
}

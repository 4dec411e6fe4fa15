import type { Failure } from '@quayside/shoot';
import type { ReadBackOutcome, ReadBackRequest, WorkControls } from '@quayside/step-sdk/built-in';
import { findDestinationAway } from '../destination/check-destination.ts';
import { destinationFailure } from '../destination/destination-failure.ts';
import { appendRecords } from '../ledger/append-ledger.ts';
import type { LedgerRecord } from '../ledger/ledger-record.ts';
import type { LedgerFile } from '../ledger/ledger-view.ts';
import type { LedgerReader } from '../ledger/read-ledger.ts';
import { forEachAtOnce } from '../workbench/for-each-at-once.ts';
import { createGate } from '../workbench/gate.ts';
import { FILES_AT_ONCE, isSmall, type Workbench } from '../workbench/workbench.ts';
import { copyMissing, readBackCopy, type ReadBackResult, type StoredCopy } from './read-back-copy.ts';
import { readBackPromptly } from './read-back-promptly.ts';

export interface ReadBackTools {
  readonly workbench: Workbench;
  readonly ledgerAt: (root: string, rollId: string) => LedgerReader;
  /** True to read also what was proven and has not been written to since. */
  readonly isDoubted?: boolean;
}

/** Reads a parcel's copies back as `Footage.readBack` promises; the ledger has the verdicts before it returns, also when it is stopped. */
export async function readBackParcel(
  request: ReadBackRequest,
  controls: WorkControls,
  tools: ReadBackTools,
): Promise<ReadBackOutcome[]> {
  const { roll, paths, destination } = request;
  const away = await findDestinationAway(destination);
  if (away !== null) return paths.map((path) => ({ path, state: 'failed', failure: away }));
  const ledger = await tools.ledgerAt(destination.root, roll.id).read();
  const outcomes = new Map<string, ReadBackOutcome>();
  const records: LedgerRecord[] = [];
  const now = new Date().toISOString();
  // A time that lies ahead is of a clock that was wrong: it does not say that anything was read since.
  const isDoubted = ({ verifiedAt = '' }: LedgerFile): boolean =>
    tools.isDoubted === true || (request.notSince !== undefined && (verifiedAt < request.notSince || verifiedAt > now));
  const note = ({ outcome, record }: ReadBackResult): void => {
    outcomes.set(outcome.path, outcome);
    if (record !== null) records.push(record);
  };
  const copies = paths.flatMap((path): StoredCopy[] => {
    const record = ledger.files.get(path);
    if (record !== undefined)
      return [{ path, record, rollId: roll.id, rollFolder: roll.folder, destination, isDoubted: isDoubted(record) }];
    const failure = copyMissing(path, destination, `, by the ledger of roll ${roll.id}`);
    outcomes.set(path, { path, state: 'failed', failure });
    return [];
  });
  const largeGate = createGate(1);
  try {
    const left = await readBackPromptly(copies, { ...controls, workbench: tools.workbench, onProven: note });
    await forEachAtOnce(left, FILES_AT_ONCE, async (copy) => {
      controls.signal.throwIfAborted();
      const read = (): ReturnType<typeof readBackCopy> => readBackCopy(copy, controls, tools.workbench);
      note(await (isSmall(copy.record.sizeInBytes) ? read() : largeGate.pass(read)));
    });
  } finally {
    const trouble = await findRecordingTrouble(request, records);
    if (trouble !== null) for (const path of paths) outcomes.set(path, { path, state: 'failed', failure: trouble });
  }
  return paths.flatMap((path) => outcomes.get(path) ?? []);
}

async function findRecordingTrouble(
  { roll, destination }: ReadBackRequest,
  records: readonly LedgerRecord[],
): Promise<Failure | null> {
  try {
    await appendRecords(destination.root, roll.id, records);
    return null;
  } catch (error) {
    return destinationFailure(error, destination, `The record of roll ${roll.id}`);
  }
}

import { type Digests, type Failure, type FileEntry, failureOf, QuaysideError } from '@quayside/shoot';
import type { CopyOutcome, Destination, RecopyOutcome, RecopyRequest, WorkControls } from '@quayside/step-sdk/built-in';
import { copyFrom, type CopyTools } from '../copy/copy-parcel.ts';
import { findDestinationAway } from '../destination/check-destination.ts';
import { fileCalls } from '../direct-io/file-calls.ts';
import { firstDifference } from '../hashing/compare-digests.ts';
import type { LedgerView } from '../ledger/ledger-view.ts';
import { createLedgerReader, readLedger } from '../ledger/read-ledger.ts';
import { readBackParcel } from '../read-back/read-back-parcel.ts';
import { deviceText } from '../source/source-presence.ts';
import { createCopyOpener } from './open-proven-copy.ts';

/**
 * Copies a parcel from proven copies as `Footage.recopy` promises: the same way as from a drive, with the destination that
 * has the copies in the drive's place, and with what was proven there to hold the bytes against.
 */
export async function recopyParcel(
  request: RecopyRequest,
  controls: WorkControls,
  tools: CopyTools,
): Promise<RecopyOutcome> {
  const { from, roll, files } = request;
  const away = await findDestinationAway(from);
  if (away !== null) throw copiesAway(from, away);
  const ledger = await readLedger(from.root, roll.id);
  const source = {
    mount: { path: from.root, mountId: from.id, device: deviceText((await fileCalls.stat(from.root)).dev) },
    openSource: createCopyOpener({ from, rollFolder: roll.folder, ledger, files }),
    checkFolder: async () => undefined,
    // Each copy is looked at thoroughly: what it gives is held against what was proven.
    openPromptly: () => null,
    readsTwice: false,
    findFault: (file: FileEntry, digests: Digests) => findFault(ledger, file, digests),
  };
  const copies = await copyFrom(source, request, { ...tools, ...controls }).catch((error: unknown) => {
    const failure = failureOf(error);
    throw failure.retry === 'source' ? copiesAway(from, failure) : error;
  });
  const suspects = new Set(copies.filter(isFaultOfSource).map(({ path }) => path));
  const bad = await findBad([...suspects], request, { controls, tools });
  return { copies: copies.map((outcome) => (isFaultOfSource(outcome) ? notRead(outcome, from) : outcome)), bad };
}

/** The copies whose reading failed are read back there: that gives the verdict on each, records it and sets aside what is bad. */
async function findBad(
  paths: readonly string[],
  { roll, from: destination }: RecopyRequest,
  { controls, tools }: { readonly controls: WorkControls; readonly tools: CopyTools },
): Promise<RecopyOutcome['bad']> {
  if (paths.length === 0) return [];
  const { workbench } = tools;
  const readBackTools = { workbench, ledgerAt: createLedgerReader, isDoubted: true };
  const outcomes = await readBackParcel({ roll, paths, destination }, controls, readBackTools);
  return outcomes.flatMap((outcome) =>
    outcome.state === 'failed' && outcome.failure.retry === 'copy'
      ? [{ path: outcome.path, failure: outcome.failure }]
      : [],
  );
}

function notRead({ path, destination }: CopyOutcome, { name, root }: Destination): CopyOutcome {
  const failure: Failure = {
    code: 'COPY_NOT_READ',
    sentence: `${path} was not copied to destination ${destination}: its copy at destination ${name} (${root}) did not give what was proven. It is taken from another copy, or from the drive when that is connected.`,
    retry: 'later',
  };
  return { path, destination, state: 'failed', failure };
}

function isFaultOfSource(outcome: CopyOutcome): boolean {
  return outcome.state === 'failed' && outcome.failure.code.startsWith('SOURCE_');
}

function findFault({ files }: LedgerView, { path }: FileEntry, digests: Digests): Failure | null {
  const proven = files.get(path)?.digests ?? {};
  if (firstDifference(proven, digests) === null) return null;
  return {
    code: 'SOURCE_NOT_AS_PROVEN',
    sentence: `The copy of ${path} that was to be copied on is no longer what was proven, so no copy was made of it.`,
    retry: 'later',
  };
}

function copiesAway({ name, root }: Destination, { sentence }: Failure): QuaysideError {
  return new QuaysideError({
    code: 'COPIES_AWAY',
    sentence: `The proven copies at destination ${name} (${root}) cannot be reached, so nothing was copied from them. ${sentence}`,
    retry: 'later',
  });
}

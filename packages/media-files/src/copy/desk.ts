import { type Failure, type FileEntry, type HashAlgorithm, isClockUnset } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { checkDestination } from '../destination/check-destination.ts';
import { destinationFailure, stopsDestination } from '../destination/destination-failure.ts';
import type { DestinationMemory, KnownDestination } from '../destination/destination-memory.ts';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { algorithmsOf } from '../hashing/compare-digests.ts';
import { appendRecords } from '../ledger/append-ledger.ts';
import type { LedgerRecord } from '../ledger/ledger-record.ts';
import type { LedgerFile, LedgerView } from '../ledger/ledger-view.ts';
import { baseNameOf, diskPath, folderOf } from '../names/disk-path.ts';
import { storedPathFor } from '../names/stored-path.ts';
import { createFolderKeeper, type FolderKeeper } from './folder-keeper.ts';

/** One destination's part in the copying of one parcel: what is known, what has failed, what must be recorded at the end. */
export interface Desk {
  readonly destination: Destination;
  readonly rollId: string;
  readonly rollFolder: string;
  readonly known: KnownDestination;
  readonly ledger: LedgerView;
  readonly folders: FolderKeeper;
  /** Stored paths that belong to a file already, by that file's path. */
  readonly claims: Map<string, string>;
  readonly records: LedgerRecord[];
  /** Set once nothing more can be written there; the rest of the parcel then fails with it. */
  stopped: Failure | null;
}

export interface DeskRequest {
  readonly destination: Destination;
  readonly roll: { readonly id: string; readonly folder: string };
  readonly memory: DestinationMemory;
}

/** Opens the desk, or gives why nothing can be written at that destination. */
export async function openDesk({ destination, roll, memory }: DeskRequest): Promise<Desk | Failure> {
  try {
    const refusal = await checkDestination(destination);
    if (refusal !== null) return refusal;
    const known = await memory.know(destination);
    const ledger = await known.ledger(roll.id).read();
    const claims = new Map([...ledger.files].map(([path, { storedPath }]) => [storedPath, path]));
    const folders = createFolderKeeper({ root: destination.root, device: known.device }, roll.folder);
    const { id: rollId, folder: rollFolder } = roll;
    return { destination, rollId, rollFolder, known, ledger, folders, claims, records: [], stopped: null };
  } catch (error) {
    return destinationFailure(error, destination, `Roll ${roll.id}`);
  }
}

/** The disk path of something in the roll's folder at this destination. */
export function pathAtDesk(desk: Desk, storedPath: string): string | Buffer {
  return diskPath(desk.destination.root, desk.rollFolder, storedPath);
}

/** What the ledger proves of this very file (same size, time, digests wanted), as long as the stored file is still there. */
export async function knownCopy(
  desk: Desk,
  file: FileEntry,
  { algorithms, readsTwice }: { readonly algorithms: readonly HashAlgorithm[]; readonly readsTwice: boolean },
): Promise<LedgerFile | null> {
  const record = desk.ledger.files.get(file.path);
  if (record === undefined || record.state === 'failed') return null;
  if (record.sizeInBytes !== file.sizeInBytes || record.modifiedMs !== file.modifiedMs) return null;
  // Equal times of a clock that was never set prove nothing: the source is read and compared.
  if (isClockUnset(file.modifiedMs)) return null;
  if (readsTwice && record.reads !== 2) return null;
  const has = algorithmsOf(record.digests);
  if (!algorithms.every((algorithm) => has.includes(algorithm))) return null;
  return (await hasFileOfSize(desk, record.storedPath, file.sizeInBytes)) ? record : null;
}

/** True when a regular file of this size lies there. */
export async function hasFileOfSize(desk: Desk, storedPath: string, sizeInBytes: number): Promise<boolean> {
  const stats = await unlessCode(['ENOENT', 'ENOTDIR', 'ENAMETOOLONG'], fileCalls.lstat(pathAtDesk(desk, storedPath)));
  return stats !== null && stats.isFile() && stats.size === sizeInBytes;
}

/** True when it is known without asking that nothing has this file's name. */
export function hasNameFree(desk: Desk, file: FileEntry): boolean {
  const wanted = storedPathFor(file.path, desk.known.nameFit);
  return desk.folders.listed(folderOf(wanted))?.has(baseNameOf(wanted)) === false;
}

/** True when a file of the same size has this file's name already, so that comparing may save copying. */
export async function hasNameTaken(desk: Desk, file: FileEntry): Promise<boolean> {
  const wanted = storedPathFor(file.path, desk.known.nameFit);
  // The folder's names are asked for once; asking for each file of ten thousand costs more than reading it.
  const names = await desk.folders.namesIn(folderOf(wanted)).catch(() => null);
  if (names?.has(baseNameOf(wanted)) !== true) return false;
  return hasFileOfSize(desk, wanted, file.sizeInBytes).catch(() => false);
}

/** Where this file wants to be: its folder is made if need be. */
export async function wantedPlace(desk: Desk, file: FileEntry): Promise<{ folder: string; name: string }> {
  const wanted = storedPathFor(file.path, desk.known.nameFit);
  return { folder: await desk.folders.ensure(folderOf(wanted)), name: baseNameOf(wanted) };
}

/** The same where its folder has been made sure of before; else null. */
export function wantedPlaceNow(desk: Desk, file: FileEntry): { folder: string; name: string } | null {
  const wanted = storedPathFor(file.path, desk.known.nameFit);
  const folder = desk.folders.ensured(folderOf(wanted));
  return folder === null ? null : { folder, name: baseNameOf(wanted) };
}

/** The failure that an error at this desk means; it stops the desk when it is about the destination as a whole. */
export function noteTrouble(desk: Desk, error: unknown, file: FileEntry): Failure {
  const failure = destinationFailure(error, desk.destination, file.path);
  if (stopsDestination(failure)) desk.stopped ??= failure;
  return failure;
}

/** Makes the parcel's new names durable, then records them: the order in which a crash can only lose a record, never a copy. */
export async function settleDesk(desk: Desk, rollId: string): Promise<void> {
  await desk.folders.sync();
  const records = desk.records.splice(0);
  await appendRecords(desk.destination.root, rollId, records);
}

import { listLedgers, readLedger } from '@quayside/media-files';
import type { FileEntry, Roll, VolumeIdentity } from '@quayside/shoot';
import { LedgerHeader } from '../records/ledger-header.ts';
import { recordsIn } from '../records/record-places.ts';
import { readRollRecord } from '../records/roll-record.ts';
import type { IntakeParts } from './intake-parts.ts';

export interface RememberedRoll {
  readonly id: string;
  readonly shootId: string;
  readonly recorder: string;
  readonly openedAt: string;
  readonly files: readonly FileEntry[];
}

/**
 * Every roll that this volume has held: from the view or, since that may be lost at any moment, from the records and
 * ledgers at the destinations when the view knows none.
 */
export async function knownRolls(parts: IntakeParts, identity: VolumeIdentity): Promise<readonly RememberedRoll[]> {
  const fromView = await parts.store.rollsOfVolume(identity.key);
  if (fromView.length > 0) return Promise.all(fromView.map((roll) => rememberFromView(parts, roll)));
  const known = new Map<string, RememberedRoll>();
  for (const { destination, failure } of await parts.book.look()) {
    if (failure !== null) continue;
    for (const roll of await rememberFromDestination(destination.root, identity)) {
      if (!known.has(roll.id)) known.set(roll.id, roll);
    }
  }
  return [...known.values()];
}

async function rememberFromView({ store }: IntakeParts, roll: Roll): Promise<RememberedRoll> {
  const files = await store.rollFiles(roll);
  return { id: roll.id, shootId: roll.shootId, recorder: roll.recorder, openedAt: roll.openedAt, files };
}

async function rememberFromDestination(root: string, identity: VolumeIdentity): Promise<readonly RememberedRoll[]> {
  return [...(await fromRecords(root, identity)), ...(await fromLedgers(root, identity))];
}

async function fromLedgers(root: string, identity: VolumeIdentity): Promise<readonly RememberedRoll[]> {
  const remembered: RememberedRoll[] = [];
  for (const rollId of await listLedgers(root)) {
    const view = await readLedger(root, rollId);
    const header = LedgerHeader.safeParse(view.header);
    if (!header.success || header.data.volume.key !== identity.key) continue;
    const files = [...view.files].map(([path, file]) => ({
      path,
      sizeInBytes: file.sizeInBytes,
      modifiedMs: file.modifiedMs,
    }));
    remembered.push({ ...header.data, id: rollId, files });
  }
  return remembered;
}

async function fromRecords(root: string, identity: VolumeIdentity): Promise<readonly RememberedRoll[]> {
  const remembered: RememberedRoll[] = [];
  for (const place of await recordsIn(root)) {
    const record = await readRollRecord(root, place).catch(() => null);
    if (record === null || record === 'damaged' || record.volume.key !== identity.key) continue;
    remembered.push({ ...record, id: record.rollId });
  }
  return remembered;
}

import type { Store } from '@quayside/job-queue';
import { advance } from '@quayside/pipeline';
import type { Roll, Shoot } from '@quayside/shoot';
import { readFacts } from '../shoots/facts-record.ts';
import type { RecordedFiles } from './kept-rolls.ts';
import type { RecordPlaces } from './record-places.ts';

interface Parts {
  readonly store: Store;
  readonly places: Pick<RecordPlaces, 'roots'>;
}

/** Takes a roll that the view does not know up from what is on record of it: its files, its state and its shoot. */
export async function takeUpRoll(store: Store, { record, parcels, copies }: RecordedFiles, now: string): Promise<void> {
  // Before the state that wants them, so that no run finds its files missing.
  await store.saveParcels(record.id, record.visit, parcels);
  for (const [destination, ofIt] of copies) await store.noteCopies(record.id, destination, ofIt);
  await store.changeRoll(record.id, (roll) => roll ?? advance(null, { type: 'recordFound', record }, now));
  await openShootOf(store, record);
}

/** Takes what is on record over into a roll that the view knows. False when it stays as it is, since it is under way by now. */
export async function takeOverRoll(
  store: Store,
  { record, parcels, copies }: RecordedFiles,
  now: string,
): Promise<boolean> {
  const { before, after } = await store.changeRoll(record.id, (roll) => {
    // Other parcels are another visit's: what still runs for those of before must find nothing of its own.
    const visit = roll === null || isSamePlan(roll, parcels) ? record.visit : Math.max(roll.visit + 1, record.visit);
    return advance(roll, { type: 'recordFound', record: { ...record, visit } }, now);
  });
  if (before === after) return false;
  // After it, since a roll that stays as it is keeps its files.
  await store.saveParcels(record.id, after.visit, parcels);
  for (const [destination, ofIt] of copies) await store.noteCopies(record.id, destination, ofIt);
  await openShootOf(store, record);
  return true;
}

function isSamePlan(roll: Roll, parcels: RecordedFiles['parcels']): boolean {
  return (
    roll.parcels.length === parcels.length &&
    roll.parcels.every(({ firstPath, fileCount }, index) => {
      const parcel = parcels[index];
      return parcel?.length === fileCount && parcel[0]?.path === firstPath;
    })
  );
}

async function openShootOf(store: Store, record: RecordedFiles['record']): Promise<void> {
  if ((await store.shoot(record.shootId)) === null) await store.saveShoot(shootOf(record));
}

function shootOf({ shootId, openedAt }: RecordedFiles['record']): Shoot {
  return { id: shootId, name: shootId, openedAt, closedAt: null, named: false };
}

/** Takes over the facts of a roll's clips from the first destination that has them, where the view has none. Gives how many. */
export async function takeUpFacts(
  { store, places }: Parts,
  { id, shootId }: Pick<Roll, 'id' | 'shootId'>,
): Promise<number> {
  if ((await store.facts(id)).length > 0) return 0;
  for (const root of places.roots.values()) {
    const facts = await readFacts({ root, shootId }, id);
    if (facts.length === 0) continue;
    await store.saveFacts(id, facts);
    return facts.length;
  }
  return 0;
}

import type { Configuration } from '@quayside/configuration';
import type { Store } from '@quayside/job-queue';
import type { DestinationBook } from '../destinations/destination-book.ts';
import { readAcknowledgements } from '../shoots/facts-record.ts';
import { filesInView } from './files-in-view.ts';
import { forEachOf } from './for-each-of.ts';
import { readKeptRoll, recordedRollOf } from './kept-rolls.ts';
import { findRecords, type RecordPlaces } from './record-places.ts';
import { takeOverRoll, takeUpFacts, takeUpRoll } from './take-up-roll.ts';

export interface RebuildParts {
  readonly store: Store;
  readonly book: DestinationBook;
  readonly configuration: Configuration;
}

/** How many rolls are read at a time. */
export const ROLLS_AT_ONCE = 8;

/**
 * Fills a view that was lost from the records beside the footage, and marks it whole. A roll that the view knows already is
 * left alone. Rebuilt rolls are held until their drive is connected and judged again: a verdict is never read from a record.
 */
export async function rebuildView({ store, book, configuration }: RebuildParts, now: string): Promise<number> {
  const places = await findRecords(book);
  const today = { names: book.names(), repairLimit: configuration.verify.repairs };
  const onRecord: { readonly id: string; readonly shootId: string }[] = [];
  await forEachOf(places.byRoll, ROLLS_AT_ONCE, async ([rollId, at]) => {
    const { kept } = await readKeptRoll(rollId, at);
    if (kept === null) return;
    onRecord.push({ id: rollId, shootId: kept.newest.shootId });
    // One that was taken in meanwhile is of what the drive holds now, and its files are not those on record.
    const roll = await store.roll(rollId);
    if (roll === null) await takeUpRoll(store, recordedRollOf(kept, today), now);
    // One whose files are not there was being rebuilt when the view was lost once more.
    else if ((await filesInView(store, roll)) === null) await takeOverRoll(store, recordedRollOf(kept, today), now);
  });
  // After them: which drives there are, and that they hold, is wanted sooner than what their clips are.
  const told = new Set<string>();
  await forEachOf(onRecord, ROLLS_AT_ONCE, async (roll) => {
    if ((await takeUpFacts({ store, places }, roll)) > 0) told.add(roll.shootId);
  });
  for (const shootId of told) await groupAnew(store, shootId);
  await takeUpAcknowledgements(store, places);
  await store.markWhole();
  return onRecord.length;
}

/** A drive that came in the middle may have had its shoot grouped without what the others' clips are. */
async function groupAnew(store: Store, shootId: string): Promise<void> {
  if ((await store.shootProgress(shootId)).grouped !== null) await store.noteShootProgress(shootId, { grouped: '' });
}

/** What people have seen, as far as the view does not know it. */
export async function takeUpAcknowledgements(store: Store, { roots, shootIds }: RecordPlaces): Promise<void> {
  for (const shootId of shootIds) {
    const known = new Set(Object.keys(await store.acknowledgements(shootId)));
    for (const root of roots.values()) {
      for (const seen of await readAcknowledgements({ root, shootId })) {
        if (known.has(seen.matter)) continue;
        known.add(seen.matter);
        await store.acknowledge(shootId, seen);
      }
    }
  }
}

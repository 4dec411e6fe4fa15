import type { Configuration } from '@quayside/configuration';
import type { Store } from '@quayside/job-queue';
import type { DestinationBook } from '../destinations/destination-book.ts';
import { readAcknowledgements } from '../shoots/facts-record.ts';
import { type KeptRecords, readKeptRecords, recordedRollOf } from './kept-rolls.ts';
import { takeUpFacts, takeUpRoll } from './take-up-roll.ts';

export interface RebuildParts {
  readonly store: Store;
  readonly book: DestinationBook;
  readonly configuration: Configuration;
}

/**
 * Fills a view that was lost from the records beside the footage, and marks it whole. A roll that the view knows already is
 * left alone. Rebuilt rolls are held until their drive is connected and judged again: a verdict is never read from a record.
 */
export async function rebuildView({ store, book, configuration }: RebuildParts, now: string): Promise<number> {
  const kept = await readKeptRecords(book);
  const today = { names: book.names(), repairLimit: configuration.verify.repairs };
  for (const roll of kept.rolls.values()) {
    // One that was taken in meanwhile is of what the drive holds now, and its files are not those on record.
    if ((await store.roll(roll.newest.rollId)) === null) await takeUpRoll(store, recordedRollOf(roll, today), now);
    await takeUpFacts({ store, kept }, { id: roll.newest.rollId, shootId: roll.newest.shootId });
  }
  for (const shootId of shootsOf(kept)) await takeUpAcknowledgements(store, kept, shootId);
  await store.markWhole();
  return kept.rolls.size;
}

/** The shoots of which anything is on record. */
export function shootsOf({ rolls }: KeptRecords): ReadonlySet<string> {
  return new Set([...rolls.values()].map(({ newest }) => newest.shootId));
}

/** What people have seen, as far as the view does not know it. */
export async function takeUpAcknowledgements(store: Store, kept: KeptRecords, shootId: string): Promise<void> {
  const known = new Set(Object.keys(await store.acknowledgements(shootId)));
  for (const root of kept.roots.values()) {
    for (const seen of await readAcknowledgements({ root, shootId })) {
      if (known.has(seen.matter)) continue;
      known.add(seen.matter);
      await store.acknowledge(shootId, seen);
    }
  }
}

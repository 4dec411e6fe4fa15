import type { Store } from '@quayside/job-queue';
import { QuaysideError, type Copy } from '@quayside/shoot';
import type { CopyOutcome, ReadBackOutcome, Rolls } from '@quayside/step-sdk/built-in';
import { knownRoll } from './known-roll.ts';
import type { DestinationBook } from '../destinations/destination-book.ts';

export interface RollsParts {
  readonly store: Store;
  readonly book: DestinationBook;
  readonly takeIn: Rolls['takeIn'];
}

/** The steps' view of rolls, over the store and the destination book. */
export function makeRolls({ store, book, takeIn }: RollsParts): Rolls {
  return {
    takeIn,
    roll: (rollId) => knownRoll(store, rollId),
    parcelFiles: (rollId, visit, parcel) => store.parcelFiles(rollId, visit, parcel),
    async noteCopies(rollId, outcomes) {
      for (const [destination, group] of groupByDestination(outcomes)) {
        await store.noteCopies(
          rollId,
          destination,
          Object.fromEntries(group.map((outcome) => [outcome.path, copyOf(outcome)])),
        );
      }
    },
    noteReadBack: (rollId, destination, outcomes) =>
      store.noteCopies(
        rollId,
        destination,
        Object.fromEntries(outcomes.map((outcome) => [outcome.path, copyReadBack(outcome)])),
      ),
    async destinations(names) {
      const found = await book.find(names);
      const [away] = found.filter(({ failure }) => failure !== null);
      // With one destination away the others must go on: the copy step sees to each by itself.
      if (away?.failure != null && found.length === 1) throw new QuaysideError(away.failure);
      return found.map(({ destination }) => destination);
    },
  };
}

function groupByDestination(outcomes: readonly CopyOutcome[]): ReadonlyMap<string, readonly CopyOutcome[]> {
  return Map.groupBy(outcomes, (outcome) => outcome.destination);
}

function copyOf(outcome: CopyOutcome): Copy {
  if (outcome.state === 'failed') return { state: 'failed', code: outcome.failure.code, why: outcome.failure.sentence };
  return { state: 'written', storedPath: outcome.storedPath, digests: outcome.digests };
}

function copyReadBack(outcome: ReadBackOutcome): Copy {
  if (outcome.state === 'failed') return { state: 'failed', code: outcome.failure.code, why: outcome.failure.sentence };
  return { state: 'verified', storedPath: outcome.storedPath, digests: outcome.digests, method: outcome.method };
}

import type { Configuration } from '@quayside/configuration';
import type { Store } from '@quayside/job-queue';
import { judgeClearance, takingDestinations } from '@quayside/pipeline';
import { QuaysideError, type Roll } from '@quayside/shoot';
import type { Destination, Manifests } from '@quayside/step-sdk/built-in';
import type { DestinationBook, Found } from '../destinations/destination-book.ts';
import { badCopies } from '../evidence/bad-copies.ts';
import { findingsOfEvidence } from '../evidence/findings-of-evidence.ts';
import { gatherEvidence } from '../evidence/gather-evidence.ts';
import { knownRoll } from './known-roll.ts';
import { attestRoll } from '../sealing/attest-roll.ts';
import { moveRoll } from '../sealing/move-roll.ts';
import { recallLedger } from '../sealing/recall-ledger.ts';
import { sealRoll } from '../sealing/seal-roll.ts';

export interface ManifestsParts {
  readonly store: Store;
  readonly book: DestinationBook;
  readonly configuration: Configuration;
}

/** Sealing, moving and judging, over the media themselves. */
export function makeManifests({ store, book, configuration }: ManifestsParts): Manifests {
  const known = (rollId: string): Promise<Roll> => knownRoll(store, rollId);
  /** Works at a destination that is there. One that left meanwhile looks as if nothing were proven there, and is to be waited for. */
  const workAt = async <Result>(name: string, work: (destination: Destination) => Promise<Result>): Promise<Result> => {
    const { destination, failure } = await findOne(book, name);
    if (failure !== null) throw new QuaysideError(failure);
    try {
      return await work(destination);
    } catch (error) {
      const left = await findOne(book, name);
      throw left.failure === null ? error : new QuaysideError(left.failure, { cause: error });
    }
  };
  return {
    async seal(rollId, name) {
      const roll = await known(rollId);
      const files = await store.rollFiles(roll);
      const now = new Date().toISOString();
      return workAt(name, (destination) => sealRoll({ roll, files, destination, now }));
    },
    async restoreLedger(rollId, name, paths) {
      const roll = await known(rollId);
      await workAt(name, (destination) => recallLedger(roll, destination, paths));
    },
    async attest(rollId, name, since) {
      const roll = await known(rollId);
      return workAt(name, (destination) => attestRoll({ roll, destination, since }));
    },
    async move(rollId, toShoot) {
      const roll = await known(rollId);
      for (const { destination, failure } of await book.find(takingDestinations(roll))) {
        if (failure !== null) throw new QuaysideError(failure);
        await moveRoll(roll, toShoot, destination);
      }
    },
    async judge(rollId) {
      const roll = await known(rollId);
      const found = await book.look();
      const filesWhenClear = roll.clearedAt === null ? null : await store.rollFiles(roll);
      const evidence = await gatherEvidence(roll, { found, litter: configuration.watch.litter, filesWhenClear });
      const now = new Date().toISOString();
      return {
        clearance: judgeClearance(evidence, configuration, now),
        findings: findingsOfEvidence(rollId, evidence, now),
        bad: await badCopies(store, roll, evidence),
      };
    },
  };
}

async function findOne(book: DestinationBook, name: string): Promise<Found> {
  const [found] = await book.find([name]);
  if (found !== undefined) return found;
  throw new QuaysideError({
    code: 'DESTINATION_UNKNOWN',
    sentence: `Destination ${name} is not in the configuration.`,
    retry: 'never',
  });
}

import type { Configuration } from '@quayside/configuration';
import type { Store } from '@quayside/job-queue';
import { judgeClearance, takingDestinations } from '@quayside/pipeline';
import { QuaysideError, type Roll } from '@quayside/shoot';
import type { Manifests } from '@quayside/step-sdk/built-in';
import type { DestinationBook } from '../destinations/destination-book.ts';
import { badCopies } from '../evidence/bad-copies.ts';
import { findingsOfEvidence } from '../evidence/findings-of-evidence.ts';
import { gatherEvidence } from '../evidence/gather-evidence.ts';
import { knownRoll } from './known-roll.ts';
import { moveRoll } from '../sealing/move-roll.ts';
import { sealRoll } from '../sealing/seal-roll.ts';

export interface ManifestsParts {
  readonly store: Store;
  readonly book: DestinationBook;
  readonly configuration: Configuration;
}

/** Sealing, moving and judging, over the media themselves. */
export function makeManifests({ store, book, configuration }: ManifestsParts): Manifests {
  const known = (rollId: string): Promise<Roll> => knownRoll(store, rollId);
  return {
    async seal(rollId, name) {
      const roll = await known(rollId);
      const [found] = await book.find([name]);
      if (found === undefined || found.failure !== null) {
        throw new QuaysideError(
          found?.failure ?? {
            code: 'DESTINATION_UNKNOWN',
            sentence: `Destination ${name} is not in the configuration.`,
            retry: 'never',
          },
        );
      }
      const files = await store.rollFiles(roll);
      try {
        return await sealRoll({ roll, files, destination: found.destination, now: new Date().toISOString() });
      } catch (error) {
        // One that left meanwhile looks as if nothing were proven there, and is to be waited for.
        const [left] = await book.find([name]);
        throw left?.failure == null ? error : new QuaysideError(left.failure, { cause: error });
      }
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
      const evidence = await gatherEvidence(roll, { found: await book.look(), litter: configuration.watch.litter });
      const now = new Date().toISOString();
      return {
        clearance: judgeClearance(evidence, configuration, now),
        findings: findingsOfEvidence(rollId, evidence, now),
        bad: await badCopies(store, roll, evidence),
      };
    },
  };
}

import type { Store } from '@quayside/job-queue';
import { createFactsReader } from '@quayside/media-facts';
import { bytesFromName } from '@quayside/media-files';
import { failureOf, QuaysideError } from '@quayside/shoot';
import type { Facts } from '@quayside/step-sdk';
import { knownRoll } from './known-roll.ts';

/** Reads facts from the drive itself, through parsers that can be thrown away; they start with the first question. */
export function makeFacts(store: Store): Facts & { close(): Promise<void> } {
  const reader = createFactsReader();
  return {
    async read(rollId, path, signal) {
      const roll = await knownRoll(store, rollId);
      if (roll.mount === null) throw driveAway(rollId);
      const files = await Promise.all(roll.parcels.map(({ index }) => store.parcelFiles(rollId, roll.visit, index)));
      const file = files.flat().find((entry) => entry.path === path);
      if (file === undefined) throw unlisted(rollId, path);
      const where = Buffer.concat([Buffer.from(`${roll.mount.path}/`), bytesFromName(path)]);
      try {
        return await reader.read(where, { sizeInBytes: file.sizeInBytes, signal });
      } catch (error) {
        const failure = failureOf(error);
        // A source that cannot be read now is away or about to be: the work waits for it.
        throw failure.code === 'FACTS_NOT_READ'
          ? new QuaysideError({ ...failure, retry: 'source' }, { cause: error })
          : error;
      }
    },
    close: () => reader.close(),
  };
}

function driveAway(rollId: string): QuaysideError {
  return new QuaysideError({
    code: 'SOURCE_GONE',
    sentence: `The drive of roll ${rollId} is not there. Connect it again; the work goes on by itself.`,
    retry: 'source',
  });
}

function unlisted(rollId: string, path: string): QuaysideError {
  return new QuaysideError({
    code: 'FILE_UNKNOWN',
    sentence: `Roll ${rollId} has no file "${path}". Ask for one of its files.`,
    retry: 'never',
  });
}

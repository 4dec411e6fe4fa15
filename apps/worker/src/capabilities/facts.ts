import type { Store } from '@quayside/job-queue';
import { createFactsReader } from '@quayside/media-facts';
import { bytesFromName } from '@quayside/media-files';
import { QuaysideError } from '@quayside/shoot';
import type { Facts } from '@quayside/step-sdk/built-in';
import { isStillMounted } from '@quayside/volumes';
import { knownRoll } from './known-roll.ts';

/** Two at once keep a processor busy while the other waits for a drive. */
const PARSERS = 2;

/** Reads facts from the drive itself, through parsers that can be thrown away; they start with the first question. */
export function makeFacts(store: Store): Facts & { close(): Promise<void> } {
  const reader = createFactsReader({ parallel: PARSERS });
  return {
    async read(rollId, { path, sizeInBytes }, signal) {
      const { mount } = await knownRoll(store, rollId);
      if (mount === null) throw driveAway(rollId);
      const where = Buffer.concat([Buffer.from(`${mount.path}/`), bytesFromName(path)]);
      try {
        return await reader.read(where, { sizeInBytes, signal });
      } catch (error) {
        throw (await isStillMounted(mount)) ? error : driveAway(rollId);
      }
    },
    known: (rollId) => store.facts(rollId),
    keep: (rollId, files) => store.saveFacts(rollId, files),
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

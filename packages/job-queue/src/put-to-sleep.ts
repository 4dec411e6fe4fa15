import type { Roll } from '@quayside/shoot';
import { packJson } from './packed-json.ts';
import {
  copiesKey,
  type CopyNote,
  factsKey,
  parcelsKey,
  readCopyNotes,
  readFacts,
  readParcels,
  type SleepingRoll,
  sleepingKey,
} from './read-files.ts';
import { readRoll, rollKey } from './read-rolls.ts';
import type { Store } from './store.ts';
import { ask, type View } from './view.ts';

/** Packs away what lies beside the rolls that sleep: of a thousand rolls of eighty clips 130 MB become 6 MB. */
export function keepSleep(view: View): Pick<Store, 'putToSleep'> {
  return {
    async putToSleep(rollId, maySleep) {
      // Before the files are read, so that what is noted meanwhile is noticed.
      const notes = await ask(view, (redis) => redis.hget(rollKey(view, rollId), 'notes'));
      const { version, roll } = await readRoll(view, rollId);
      if (roll === null || !(await maySleep(roll))) return false;
      const sleeping = await gather(view, roll);
      if (sleeping === null) return false;
      const keys = [
        rollKey(view, rollId),
        sleepingKey(view, rollId),
        copiesKey(view, rollId),
        factsKey(view, rollId),
        parcelsKey(view, { rollId, visit: roll.visit }),
        view.key('asleep'),
      ];
      const values = [version, notes ?? '', packJson(sleeping), rollId];
      return (await ask(view, (redis) => redis.eval(SLEEP_UNCHANGED, keys.length, ...keys, ...values))) === 1;
    },
  };
}

const SLEEP_UNCHANGED = `
if (redis.call('HGET', KEYS[1], 'version') or '') ~= ARGV[1] then return 0 end
if (redis.call('HGET', KEYS[1], 'notes') or '') ~= ARGV[2] then return 0 end
redis.call('SET', KEYS[2], ARGV[3])
redis.call('DEL', KEYS[3], KEYS[4], KEYS[5])
redis.call('SADD', KEYS[6], ARGV[4])
return 1`;

/** What lies beside the roll's state, or null when files of it are missing: then there is nothing whole to pack. */
async function gather(view: View, { id, visit, parcels }: Roll): Promise<SleepingRoll | null> {
  const files = await readParcels(view, { rollId: id, visit }, parcels.length);
  if (files.some((parcel) => parcel.length === 0)) return null;
  const copies = new Map<string, CopyNote>();
  for (const note of await readCopyNotes(view, id)) copies.set(JSON.stringify([note[1], note[0]]), note);
  // Side by side, because the copies of one file have the same digests, which then take their room once.
  const sorted = [...copies].toSorted(([one], [other]) => (one < other ? -1 : 1));
  return { visit, parcels: files, copies: sorted.map(([, note]) => note), facts: await readFacts(view, id) };
}

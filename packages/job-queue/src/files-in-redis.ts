import { type Copy, type FileEntry, QuaysideError } from '@quayside/shoot';
import { batchesOf } from './batches-of.ts';
import { packJson } from './packed-json.ts';
import { copiesKey, parcelsKey, readCopyNotes, readParcel, readParcels, type RollVisit } from './read-files.ts';
import { RollProgress, type Store } from './store.ts';
import { ask, parseRow, sendAll, type View } from './view.ts';
import { wake } from './wake.ts';

const SUPERSEDED_VISIT_SECONDS = 24 * 60 * 60;
const PROGRESS_MS = 5 * 60_000;

/** Keeps what lies beside a roll's state: the files of its parcels, the copies by destination, and the progress. */
export function keepFiles(
  view: View,
): Pick<
  Store,
  'saveParcels' | 'parcelFiles' | 'rollFiles' | 'copies' | 'noteCopies' | 'progress' | 'progressOf' | 'noteProgress'
> {
  return {
    saveParcels: (rollId, visit, parcels) => saveParcels(view, { rollId, visit }, parcels),
    async parcelFiles(rollId, visit, parcel) {
      return throwIfNone(await readParcel(view, { rollId, visit }, parcel), { rollId, visit }, parcel);
    },
    async rollFiles({ id, visit, parcels }) {
      const files = await readParcels(view, { rollId: id, visit }, parcels.length);
      return files.flatMap((parcel, index) => throwIfNone(parcel, { rollId: id, visit }, index));
    },
    async copies(rollId) {
      const found = new Map<string, [string, Copy][]>();
      for (const [destination, path, copy] of await readCopyNotes(view, rollId)) {
        const copies = found.get(destination);
        if (copies === undefined) found.set(destination, [[path, copy]]);
        else copies.push([path, copy]);
      }
      return Object.fromEntries([...found].map(([destination, copies]) => [destination, Object.fromEntries(copies)]));
    },
    async noteCopies(rollId, destination, copies) {
      const rows = Object.entries(copies).map(([path, copy]) => [copyField(destination, path), JSON.stringify(copy)]);
      for (const batch of batchesOf(rows, 500)) {
        const commands = view.redis.multi().hset(copiesKey(view, rollId), ...batch.flat());
        await sendAll(view, wake(view, commands, [rollId]));
      }
    },
    async progress(rollId) {
      const key = view.key('progress', rollId);
      return parseRow(view, RollProgress, { key, text: await ask(view, (redis) => redis.get(key)) });
    },
    async progressOf(rollIds) {
      if (rollIds.length === 0) return [];
      const keys = rollIds.map((rollId) => view.key('progress', rollId));
      const texts = await ask(view, (redis) => redis.mget(keys));
      return keys.map((key, index) => parseRow(view, RollProgress, { key, text: texts[index] }));
    },
    async noteProgress(rollId, progress) {
      const text = JSON.stringify(progress);
      await ask(view, (redis) => redis.set(view.key('progress', rollId), text, 'PX', PROGRESS_MS));
    },
  };
}

async function saveParcels(view: View, visit: RollVisit, parcels: readonly (readonly FileEntry[])[]): Promise<void> {
  const key = parcelsKey(view, visit);
  const commands = view.redis.multi().del(key);
  for (const [index, files] of parcels.entries()) commands.hset(key, String(index), packJson(files));
  // A run of the visit before may still be under way, so its files go a day later.
  commands.expire(parcelsKey(view, { ...visit, visit: visit.visit - 1 }), SUPERSEDED_VISIT_SECONDS);
  await sendAll(view, wake(view, commands, [visit.rollId]));
}

function throwIfNone(files: readonly FileEntry[], { rollId, visit }: RollVisit, parcel: number): readonly FileEntry[] {
  if (files.length > 0) return files;
  // Never an empty list: a run over no files would end well and prove nothing.
  throw new QuaysideError({
    code: 'PARCEL_UNKNOWN',
    sentence: `The files of parcel ${parcel} of roll "${rollId}", visit ${visit}, are not in Redis: the view was lost. Nothing was copied; the roll is listed again when its volume is there.`,
    retry: 'later',
  });
}

// As JSON: it keeps a lone surrogate (a name that is not valid UTF-8) apart, where plain UTF-8 would fold all of them into one.
function copyField(destination: string, path: string): string {
  return JSON.stringify([destination, path]);
}

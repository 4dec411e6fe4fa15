import { Copy, FileEntry, QuaysideError } from '@quayside/shoot';
import { z } from 'zod';
import { batchesOf } from './batches-of.ts';
import { RollProgress, type Store } from './store.ts';
import { ask, parseRow, sendAll, type View } from './view.ts';

const SUPERSEDED_VISIT_SECONDS = 24 * 60 * 60;
const PROGRESS_MS = 5 * 60_000;

const CopyField = z.tuple([z.string(), z.string()]);

/** Keeps what lies beside a roll's state: the files of its parcels, the copies by destination, and the progress. */
export function keepFiles(
  view: View,
): Pick<Store, 'saveParcels' | 'parcelFiles' | 'copies' | 'noteCopies' | 'progress' | 'noteProgress'> {
  return {
    saveParcels: (rollId, visit, parcels) => saveParcels(view, { rollId, visit }, parcels),
    parcelFiles: (rollId, visit, parcel) => readParcel(view, { rollId, visit }, parcel),
    copies: (rollId) => readCopies(view, rollId),
    async noteCopies(rollId, destination, copies) {
      const rows = Object.entries(copies).map(([path, copy]) => [copyField(destination, path), JSON.stringify(copy)]);
      for (const batch of batchesOf(rows, 500)) {
        await ask(view, (redis) => redis.hset(view.key('copies', rollId), ...batch.flat()));
      }
    },
    async progress(rollId) {
      const key = view.key('progress', rollId);
      return parseRow(view, RollProgress, { key, text: await ask(view, (redis) => redis.get(key)) });
    },
    async noteProgress(rollId, progress) {
      const text = JSON.stringify(progress);
      await ask(view, (redis) => redis.set(view.key('progress', rollId), text, 'PX', PROGRESS_MS));
    },
  };
}

interface Visit {
  readonly rollId: string;
  readonly visit: number;
}

async function saveParcels(view: View, visit: Visit, parcels: readonly (readonly FileEntry[])[]): Promise<void> {
  const key = parcelsKey(view, visit);
  const commands = view.redis.multi().del(key);
  for (const [index, files] of parcels.entries()) commands.hset(key, String(index), JSON.stringify(files));
  // A run of the visit before may still be under way, so its files go a day later.
  commands.expire(parcelsKey(view, { ...visit, visit: visit.visit - 1 }), SUPERSEDED_VISIT_SECONDS);
  await sendAll(view, commands);
}

async function readParcel(view: View, visit: Visit, parcel: number): Promise<FileEntry[]> {
  const key = parcelsKey(view, visit);
  const text = await ask(view, (redis) => redis.hget(key, String(parcel)));
  const files = parseRow(view, z.array(FileEntry), { key: `${key} ${parcel}`, text });
  if (files !== null && files.length > 0) return files;
  // Never an empty list: a run over no files would end well and prove nothing.
  throw new QuaysideError({
    code: 'PARCEL_UNKNOWN',
    sentence: `The files of parcel ${parcel} of roll "${visit.rollId}", visit ${visit.visit}, are not in Redis: the view was lost. Nothing was copied; the roll is listed again when its volume is there.`,
    retry: 'later',
  });
}

async function readCopies(view: View, rollId: string): Promise<Record<string, Record<string, Copy>>> {
  const key = view.key('copies', rollId);
  const rows = await ask(view, (redis) => redis.hgetall(key));
  const found = new Map<string, [string, Copy][]>();
  for (const [field, text] of Object.entries(rows)) {
    const names = parseRow(view, CopyField, { key, text: field });
    const copy = parseRow(view, Copy, { key: `${key} ${field}`, text });
    if (names === null || copy === null) continue;
    const [destination, path] = names;
    const copies = found.get(destination);
    if (copies === undefined) found.set(destination, [[path, copy]]);
    else copies.push([path, copy]);
  }
  return Object.fromEntries([...found].map(([destination, copies]) => [destination, Object.fromEntries(copies)]));
}

// As JSON: it keeps a lone surrogate (a name that is not valid UTF-8) apart, where plain UTF-8 would fold all of them into one.
function copyField(destination: string, path: string): string {
  return JSON.stringify([destination, path]);
}

function parcelsKey(view: View, { rollId, visit }: Visit): string {
  return view.key('parcels', rollId, visit);
}

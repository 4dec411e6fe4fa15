import { Copy, FileEntry, FileFacts } from '@quayside/shoot';
import { z } from 'zod';
import { ask, parseRow, rememberRows, type View } from './view.ts';

export interface RollVisit {
  readonly rollId: string;
  readonly visit: number;
}

/** What is known of one file at one destination. */
export type CopyNote = readonly [destination: string, path: string, copy: Copy];

/** What lies beside the state of a roll that sleeps: in one packed row instead of hundreds. */
export interface SleepingRoll {
  readonly visit: number;
  readonly parcels: readonly (readonly FileEntry[])[];
  readonly copies: readonly CopyNote[];
  readonly facts: readonly FileFacts[];
}

const ParcelFiles = z.array(FileEntry);

const SleepingRow: z.ZodType<SleepingRoll> = z.object({
  visit: z.number(),
  parcels: z.array(ParcelFiles),
  copies: z.array(z.tuple([z.string(), z.string(), Copy])),
  facts: z.array(FileFacts),
});

const CopyField = z.tuple([z.string(), z.string()]);

/** The files of one parcel; none when they are not there or cannot be read. */
export async function readParcel(view: View, visit: RollVisit, parcel: number): Promise<readonly FileEntry[]> {
  const stored = await ask(view, (redis) => redis.hgetBuffer(parcelsKey(view, visit), String(parcel)));
  if (stored !== null) return parcelIn(view, visit, { parcel, stored });
  const sleeping = await readSleeping(view, visit.rollId);
  return sleeping?.visit === visit.visit ? (sleeping.parcels[parcel] ?? []) : [];
}

/** The files of so many parcels; where one is not there or cannot be read, none for it. */
export async function readParcels(
  view: View,
  visit: RollVisit,
  count: number,
): Promise<readonly (readonly FileEntry[])[]> {
  const rows = await ask(view, (redis) => redis.hgetallBuffer(parcelsKey(view, visit)));
  const sleeping = '0' in rows ? null : await readSleeping(view, visit.rollId);
  if (sleeping?.visit === visit.visit)
    return Array.from({ length: count }, (_, parcel) => sleeping.parcels[parcel] ?? []);
  return Array.from({ length: count }, (_, parcel) => parcelIn(view, visit, { parcel, stored: rows[String(parcel)] }));
}

/** Every copy that was noted, those that were noted last at the end. */
export async function readCopyNotes(view: View, rollId: string): Promise<readonly CopyNote[]> {
  const sleeping = await readSleeping(view, rollId);
  const rows = await ask(view, (redis) => redis.hgetall(copiesKey(view, rollId)));
  return [...(sleeping?.copies ?? []), ...Object.entries(rows).flatMap((row) => copyIn(view, rollId, row))];
}

/** The facts of a roll's files by path; of each path what was saved last. */
export async function readFacts(view: View, rollId: string): Promise<readonly FileFacts[]> {
  const key = factsKey(view, rollId);
  const sleeping = await readSleeping(view, rollId);
  const facts = new Map(sleeping?.facts.map((file) => [file.path, file]));
  for (const [field, text] of Object.entries(await ask(view, (redis) => redis.hgetallBuffer(key)))) {
    const file = parseRow(view, FileFacts, { key: `${key} ${field}`, text });
    if (file !== null) facts.set(file.path, file);
  }
  return [...facts.values()].toSorted((one, other) => (one.path < other.path ? -1 : 1));
}

/** Where the parcels of a visit lie while the roll is awake. */
export function parcelsKey(view: View, { rollId, visit }: RollVisit): string {
  return view.key('parcels', rollId, visit);
}

/** Where copies are noted while the roll is awake. */
export function copiesKey(view: View, rollId: string): string {
  return view.key('copies', rollId);
}

/** Where facts are saved while the roll is awake. */
export function factsKey(view: View, rollId: string): string {
  return view.key('facts', rollId);
}

/** Where lies what was packed when the roll fell asleep. It stays when the roll wakes; what is noted then goes before it. */
export function sleepingKey(view: View, rollId: string): string {
  return view.key('sleeping', rollId);
}

/** By view, so that each forgets its own. */
const sleepers = new WeakMap<View, (key: string, stored: Buffer | null) => SleepingRoll | null>();

async function readSleeping(view: View, rollId: string): Promise<SleepingRoll | null> {
  const key = sleepingKey(view, rollId);
  const parse = sleepers.get(view) ?? rememberRows(view, SleepingRow);
  sleepers.set(view, parse);
  return parse(key, await ask(view, (redis) => redis.getBuffer(key)));
}

function parcelIn(
  view: View,
  visit: RollVisit,
  { parcel, stored }: { readonly parcel: number; readonly stored: unknown },
): readonly FileEntry[] {
  return parseRow(view, ParcelFiles, { key: `${parcelsKey(view, visit)} ${parcel}`, text: stored }) ?? [];
}

function copyIn(view: View, rollId: string, [field, text]: readonly [string, string]): readonly CopyNote[] {
  const key = copiesKey(view, rollId);
  const names = parseRow(view, CopyField, { key, text: field });
  const copy = parseRow(view, Copy, { key: `${key} ${field}`, text });
  return names === null || copy === null ? [] : [[...names, copy]];
}

import { Shoot, Volume, VolumeListing } from '@quayside/shoot';
import type { z } from 'zod';
import { packJson } from './packed-json.ts';
import { Assignment, type Store } from './store.ts';
import { ask, parseRow, sendAll, type View } from './view.ts';

type Kept =
  | 'volumes'
  | 'volume'
  | 'saveVolume'
  | 'noteRollOfVolume'
  | 'listing'
  | 'saveListing'
  | 'assignments'
  | 'assign'
  | 'shoots'
  | 'shoot'
  | 'saveShoot';

/**
 * Keeps volumes, their listings and assignments, and shoots: one hash of JSON rows for each kind, the last write counts. The
 * roll of a volume is a hash of its own, because another process writes it.
 */
export function keepVolumes(view: View): Pick<Store, Kept> {
  return {
    volumes: () => readVolumes(view),
    volume: (key) => readVolume(view, key),
    // JSON leaves out what is undefined.
    saveVolume: (volume) => saveRow(view, ['volumes', volume.identity.key], { ...volume, rollId: undefined }),
    async noteRollOfVolume(volumeKey, rollId) {
      await ask(view, (redis) => redis.hset(view.key(ROLL_OF_VOLUME), volumeKey, rollId));
    },
    async listing(volumeKey) {
      const key = view.key('listing', volumeKey);
      return parseRow(view, VolumeListing, { key, text: await ask(view, (redis) => redis.getBuffer(key)) });
    },
    async saveListing(volumeKey, listing) {
      await ask(view, (redis) => redis.set(view.key('listing', volumeKey), packJson(listing)));
    },
    assignments: async () => Object.fromEntries(await readRows(view, 'assignments', Assignment)),
    assign: (volumeKey, assignment) => saveRow(view, ['assignments', volumeKey], assignment),
    shoots: async () => [...(await readRows(view, 'shoots', Shoot)).values()],
    shoot: (id) => readRowOf(view, ['shoots', id], Shoot),
    saveShoot: (shoot) => saveRow(view, ['shoots', shoot.id], shoot),
  };
}

const ROLL_OF_VOLUME = 'volume-rolls';

const VolumeRow = Volume.omit({ rollId: true });

async function readVolumes(view: View): Promise<Volume[]> {
  const rollIds = await ask(view, (redis) => redis.hgetall(view.key(ROLL_OF_VOLUME)));
  const rows = await readRows(view, 'volumes', VolumeRow);
  return [...rows].map(([key, row]) => ({ ...row, rollId: rollIds[key] ?? null }));
}

async function readVolume(view: View, key: string): Promise<Volume | null> {
  const commands = view.redis.pipeline().hget(view.key('volumes'), key).hget(view.key(ROLL_OF_VOLUME), key);
  const [text, rollId] = await sendAll(view, commands);
  const row = parseRow(view, VolumeRow, { key: `${view.key('volumes')} ${key}`, text });
  return row === null ? null : { ...row, rollId: typeof rollId === 'string' ? rollId : null };
}

type Place = readonly [kind: string, id: string];

async function readRows<Row>(view: View, kind: string, schema: z.ZodType<Row>): Promise<Map<string, Row>> {
  const rows = await ask(view, (redis) => redis.hgetall(view.key(kind)));
  const found = new Map<string, Row>();
  for (const id of Object.keys(rows).toSorted()) {
    const row = parseRow(view, schema, { key: `${view.key(kind)} ${id}`, text: rows[id] });
    if (row !== null) found.set(id, row);
  }
  return found;
}

async function readRowOf<Row>(view: View, [kind, id]: Place, schema: z.ZodType<Row>): Promise<Row | null> {
  const text = await ask(view, (redis) => redis.hget(view.key(kind), id));
  return parseRow(view, schema, { key: `${view.key(kind)} ${id}`, text });
}

async function saveRow(view: View, [kind, id]: Place, row: unknown): Promise<void> {
  await ask(view, (redis) => redis.hset(view.key(kind), id, JSON.stringify(row)));
}

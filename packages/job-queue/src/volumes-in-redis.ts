import { Shoot, Volume, VolumeListing } from '@quayside/shoot';
import type { z } from 'zod';
import { Assignment, type Store } from './store.ts';
import { ask, parseRow, type View } from './view.ts';

type Kept =
  | 'volumes'
  | 'volume'
  | 'saveVolume'
  | 'listing'
  | 'saveListing'
  | 'assignments'
  | 'assign'
  | 'shoots'
  | 'shoot'
  | 'saveShoot';

/** Keeps volumes, their listings and assignments, and shoots: one hash of JSON rows for each kind, the last write counts. */
export function keepVolumes(view: View): Pick<Store, Kept> {
  return {
    volumes: async () => [...(await readRows(view, 'volumes', Volume)).values()],
    volume: (key) => readRowOf(view, ['volumes', key], Volume),
    saveVolume: (volume) => saveRow(view, ['volumes', volume.identity.key], volume),
    async listing(volumeKey) {
      const key = view.key('listing', volumeKey);
      return parseRow(view, VolumeListing, { key, text: await ask(view, (redis) => redis.get(key)) });
    },
    async saveListing(volumeKey, listing) {
      await ask(view, (redis) => redis.set(view.key('listing', volumeKey), JSON.stringify(listing)));
    },
    assignments: async () => Object.fromEntries(await readRows(view, 'assignments', Assignment)),
    assign: (volumeKey, assignment) => saveRow(view, ['assignments', volumeKey], assignment),
    shoots: async () => [...(await readRows(view, 'shoots', Shoot)).values()],
    shoot: (id) => readRowOf(view, ['shoots', id], Shoot),
    saveShoot: (shoot) => saveRow(view, ['shoots', shoot.id], shoot),
  };
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

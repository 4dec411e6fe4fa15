import { randomUUID } from 'node:crypto';
import { Shoot, Volume, VolumeListing } from '@quayside/shoot';
import type { z } from 'zod';
import { byTurns } from './by-turns.ts';
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
  const volumeRows = rememberKind(view, 'volumes', VolumeRow);
  const shootRows = rememberKind(view, 'shoots', Shoot);
  return {
    async volumes() {
      // Before the rows: of one that is taken in meanwhile the roll is not known yet, as if it were read a moment sooner.
      const rollIds = await ask(view, (redis) => redis.hgetall(view.key(ROLL_OF_VOLUME)));
      return [...(await volumeRows())].map(([key, row]) => ({ ...row, rollId: rollIds[key] ?? null }));
    },
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
    shoots: async () => [...(await shootRows()).values()],
    shoot: (id) => readRowOf(view, ['shoots', id], Shoot),
    saveShoot: (shoot) => saveRow(view, ['shoots', shoot.id], shoot),
  };
}

const ROLL_OF_VOLUME = 'volume-rolls';

const VolumeRow = Volume.omit({ rollId: true });

async function readVolume(view: View, key: string): Promise<Volume | null> {
  const commands = view.redis.pipeline().hget(view.key('volumes'), key).hget(view.key(ROLL_OF_VOLUME), key);
  const [text, rollId] = await sendAll(view, commands);
  const row = parseRow(view, VolumeRow, { key: `${view.key('volumes')} ${key}`, text });
  return row === null ? null : { ...row, rollId: typeof rollId === 'string' ? rollId : null };
}

type Place = readonly [kind: string, id: string];

/** Stands among the rows of a kind for the last change of any of them: a random token. Nothing is named so. */
const LAST_CHANGE = '*';
const REMEMBERED_MS = 60_000;

/** Reads all rows of a kind, and while none has changed since gives those again, for as long as somebody asks each minute. Never change them. */
function rememberKind<Row>(view: View, kind: string, schema: z.ZodType<Row>): () => Promise<ReadonlyMap<string, Row>> {
  let held: { readonly change: string; readonly rows: ReadonlyMap<string, Row> } | null = null;
  let forgetting: NodeJS.Timeout | undefined;
  return byTurns(async () => {
    const change = await ask(view, (redis) => redis.hget(view.key(kind), LAST_CHANGE));
    // The token was read first: a change in between is seen the next time.
    const known =
      held !== null && change !== null && change === held.change
        ? held
        : { change: change ?? '', rows: await readRows(view, kind, schema) };
    held = known;
    clearTimeout(forgetting);
    forgetting = setTimeout(() => void (held = null), REMEMBERED_MS).unref();
    return known.rows;
  });
}

async function readRows<Row>(view: View, kind: string, schema: z.ZodType<Row>): Promise<Map<string, Row>> {
  const rows = await ask(view, (redis) => redis.hgetall(view.key(kind)));
  delete rows[LAST_CHANGE];
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
  await ask(view, (redis) => redis.hset(view.key(kind), id, JSON.stringify(row), LAST_CHANGE, randomUUID()));
}

import { randomInt, randomUUID } from 'node:crypto';
import { setTimeout as pause } from 'node:timers/promises';
import { packJson } from './packed-json.ts';
import { byTurns } from './by-turns.ts';
import { type KnownRolls, readRoll, readRolls, rollKey, type VersionedRoll } from './read-rolls.ts';
import type { Store } from './store.ts';
import { ask, sendAll, type View } from './view.ts';
import type { Roll } from '@quayside/shoot';

/** Whoever looks at all rolls looks again soon, or not for long: an idle service shall not hold what a thousand of them take. */
const REMEMBERED_MS = 60_000;

type Kept = 'rolls' | 'rollVersions' | 'awakeRolls' | 'rollsOfVolume' | 'rollsOfShoot' | 'roll' | 'changeRoll';

/**
 * Keeps each roll as a hash of `version` and `roll` (JSON), the versions of all in one hash by id, in another which volume
 * each is of, in one more its shoot, and in a set those that sleep. A version is a random token, never a counter: after a loss of Redis a counter
 * starts again, and a change made from the lost state would pass for new.
 */
export function keepRolls(view: View): Pick<Store, Kept> {
  let all: AllRolls | null = null;
  let awake: KnownRolls = new Map();
  let forgetting: NodeJS.Timeout | undefined;
  // What was read before a look failed half-way, so that the next one goes on from there.
  const read = new Map<string, VersionedRoll>();
  // By turns: many who ask at once must not each read two thousand rolls.
  const look = byTurns(async (): Promise<AllRolls> => {
    all = await readAll(view, all, read);
    read.clear();
    clearTimeout(forgetting);
    forgetting = setTimeout(() => void (all = null), REMEMBERED_MS).unref();
    return all;
  });
  return {
    rolls: async () => (await look()).list,
    rollVersions: async () => (await versionsOfAll(view)).versions,
    async awakeRolls() {
      awake = await readRolls(view, await versionsOfAwake(view), { known: awake });
      return rollsIn(awake);
    },
    async rollsOfVolume(volumeKey) {
      return rollsIn(
        await readRolls(view, await idsWith(view, 'roll-volumes', volumeKey), { known: all?.known ?? awake }),
      );
    },
    async rollsOfShoot(shootId) {
      if (all !== null) return (await look()).byShoot.get(shootId) ?? [];
      return rollsIn(await readRolls(view, await idsWith(view, 'roll-shoots', shootId), { known: awake }));
    },
    roll: async (id) => (await readRoll(view, id)).roll,
    async changeRoll(id, change) {
      for (;;) {
        const { version, roll: before } = await readRoll(view, id);
        const after = change(before);
        if (after === before) return { before, after };
        if (await writeRoll(view, version, after)) return { before, after };
        // Somebody else wrote meanwhile. A short random pause keeps several writers from meeting again and again.
        await pause(randomInt(1, 8));
      }
    },
  };
}

function rollsIn(known: KnownRolls): readonly Roll[] {
  return [...known.values()].flatMap(({ roll }) => (roll === null ? [] : [roll]));
}

/** Stands among the versions of all rolls for the last change of any of them: a random token, as they are. No roll is named so. */
const LAST_CHANGE = '*';

/** All rolls as they stood at one change. */
interface AllRolls {
  readonly change: string;
  /** How many fields the versions of all have: what Redis lost changes no token. */
  readonly fieldCount: number;
  readonly known: KnownRolls;
  readonly list: readonly Roll[];
  readonly byShoot: ReadonlyMap<string, readonly Roll[]>;
}

/** What is held already when nothing has changed since: two thousand versions are not compared for each of two hundred looks a second. */
async function readAll(view: View, held: AllRolls | null, read: Map<string, VersionedRoll>): Promise<AllRolls> {
  if (held !== null) {
    const key = view.key('rolls');
    const [change, fieldCount] = await sendAll(view, view.redis.pipeline().hget(key, LAST_CHANGE).hlen(key));
    if (change === held.change && fieldCount === held.fieldCount) return held;
  }
  const { versions, change, fieldCount } = await versionsOfAll(view);
  const known = await readRolls(view, versions, { known: held?.known ?? new Map(), read });
  const list = rollsIn(known);
  return { change, fieldCount, known, list, byShoot: Map.groupBy(list, ({ shootId }) => shootId) };
}

async function versionsOfAll(view: View): Promise<{
  readonly versions: ReadonlyMap<string, string>;
  readonly change: string;
  readonly fieldCount: number;
}> {
  const versions = new Map(Object.entries(await ask(view, (redis) => redis.hgetall(view.key('rolls')))));
  const [change, fieldCount] = [versions.get(LAST_CHANGE) ?? '', versions.size];
  versions.delete(LAST_CHANGE);
  return { versions, change, fieldCount };
}

/** The ids of those rolls that stand with this value in a hash by id, and their versions. */
async function idsWith(
  view: View,
  kind: 'roll-volumes' | 'roll-shoots',
  value: string,
): Promise<ReadonlyMap<string, string>> {
  const values = await ask(view, (redis) => redis.hgetall(view.key(kind)));
  const ids = Object.keys(values).filter((id) => values[id] === value);
  if (ids.length === 0) return new Map();
  const versions = await ask(view, (redis) => redis.hmget(view.key('rolls'), ...ids));
  return new Map(ids.map((id, index) => [id, versions[index] ?? '']));
}

async function versionsOfAwake(view: View): Promise<ReadonlyMap<string, string>> {
  const keys = [view.key('rolls'), view.key('asleep')];
  const reply = await ask(view, (redis) => redis.eval(AWAKE, keys.length, ...keys));
  const flat = Array.isArray(reply) ? reply.map(String) : [];
  return new Map(flat.flatMap((id, index) => (index % 2 === 0 ? [[id, flat[index + 1] ?? ''] as const] : [])));
}

// In Redis, so that of a thousand rolls only the few that are awake travel.
const AWAKE = `
local all = redis.call('HGETALL', KEYS[1])
local awake = {}
for place = 1, #all, 2 do
  if all[place] ~= '${LAST_CHANGE}' and redis.call('SISMEMBER', KEYS[2], all[place]) == 0 then
    awake[#awake + 1] = all[place]
    awake[#awake + 1] = all[place + 1]
  end
end
return awake`;

async function writeRoll(view: View, expectedVersion: string, roll: Roll): Promise<boolean> {
  const keys = [
    rollKey(view, roll.id),
    view.key('rolls'),
    view.key('roll-volumes'),
    view.key('roll-shoots'),
    view.key('asleep'),
  ];
  const values = [
    expectedVersion,
    randomUUID(),
    packJson(roll),
    roll.id,
    roll.volume.key,
    roll.shootId,
    rollKey(view, ''),
  ];
  return (await ask(view, (redis) => redis.eval(COMPARE_AND_SET, keys.length, ...keys, ...values))) === 1;
}

// A roll that leaves a shoot wakes those that stay in it, since their shoot may want something now.
const COMPARE_AND_SET = `
local version = redis.call('HGET', KEYS[1], 'version') or ''
if version ~= ARGV[1] then return 0 end
local shoot = redis.call('HGET', KEYS[4], ARGV[4])
redis.call('HSET', KEYS[1], 'version', ARGV[2], 'roll', ARGV[3])
redis.call('HSET', KEYS[2], ARGV[4], ARGV[2], '${LAST_CHANGE}', ARGV[2])
redis.call('HSET', KEYS[3], ARGV[4], ARGV[5])
redis.call('HSET', KEYS[4], ARGV[4], ARGV[6])
redis.call('SREM', KEYS[5], ARGV[4])
if shoot and shoot ~= ARGV[6] then
  local shoots = redis.call('HGETALL', KEYS[4])
  for place = 1, #shoots, 2 do
    if shoots[place + 1] == shoot then
      redis.call('HINCRBY', ARGV[7] .. shoots[place], 'notes', 1)
      redis.call('SREM', KEYS[5], shoots[place])
    end
  end
end
return 1`;

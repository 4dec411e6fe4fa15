import { randomInt, randomUUID } from 'node:crypto';
import { setTimeout as pause } from 'node:timers/promises';
import { Roll } from '@quayside/shoot';
import { batchesOf } from './batches-of.ts';
import type { Store } from './store.ts';
import { ask, parseRow, sendAll, type View } from './view.ts';

interface Versioned {
  readonly version: string;
  readonly roll: Roll | null;
}

/**
 * Keeps each roll as a hash of `version` and `roll` (JSON), and the versions of all in one hash by id. A version is a
 * random token, never a counter: after a loss of Redis a counter starts again, and a change made from the lost state would
 * pass for new.
 */
export function keepRolls(view: View): Pick<Store, 'rolls' | 'roll' | 'changeRoll'> {
  let known: ReadonlyMap<string, Versioned> = new Map();
  return {
    async rolls() {
      known = await readRolls(view, known);
      return [...known.values()].flatMap(({ roll }) => (roll === null ? [] : [roll]));
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

// Reads only what has another version than what is known: parsing a thousand rolls takes a quarter of a second, and whoever
// looks at all of them looks again soon.
async function readRolls(view: View, known: ReadonlyMap<string, Versioned>): Promise<Map<string, Versioned>> {
  const versions = await ask(view, (redis) => redis.hgetall(view.key('rolls')));
  const ids = Object.keys(versions).toSorted();
  const read = new Map<string, Versioned>();
  for (const batch of batchesOf(
    ids.filter((id) => known.get(id)?.version !== versions[id]),
    100,
  )) {
    const commands = view.redis.pipeline();
    for (const id of batch) commands.hmget(rollKey(view, id), 'version', 'roll');
    const replies = await sendAll(view, commands);
    for (const [index, id] of batch.entries()) read.set(id, parseRoll(view, id, replies[index]));
  }
  return new Map(
    ids.flatMap((id): [string, Versioned][] => {
      const row = read.get(id) ?? known.get(id);
      return row === undefined ? [] : [[id, row]];
    }),
  );
}

async function readRoll(view: View, id: string): Promise<Versioned> {
  return parseRoll(view, id, await ask(view, (redis) => redis.hmget(rollKey(view, id), 'version', 'roll')));
}

function parseRoll(view: View, id: string, reply: unknown): Versioned {
  const [version, text]: unknown[] = Array.isArray(reply) ? reply : [];
  return {
    version: typeof version === 'string' ? version : '',
    roll: parseRow(view, Roll, { key: rollKey(view, id), text }),
  };
}

async function writeRoll(view: View, expectedVersion: string, roll: Roll): Promise<boolean> {
  const keys = [rollKey(view, roll.id), view.key('rolls')];
  const written = await ask(view, (redis) =>
    redis.eval(COMPARE_AND_SET, keys.length, ...keys, expectedVersion, randomUUID(), JSON.stringify(roll), roll.id),
  );
  return written === 1;
}

const COMPARE_AND_SET = `
local version = redis.call('HGET', KEYS[1], 'version') or ''
if version ~= ARGV[1] then return 0 end
redis.call('HSET', KEYS[1], 'version', ARGV[2], 'roll', ARGV[3])
redis.call('HSET', KEYS[2], ARGV[4], ARGV[2])
return 1`;

function rollKey(view: View, id: string): string {
  return view.key('roll', id);
}

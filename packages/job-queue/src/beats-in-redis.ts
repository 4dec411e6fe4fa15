import type { Store } from './store.ts';
import { ask, sendAll, type View } from './view.ts';

/** Keeps heartbeats: a key for each name that Redis drops when its time is over, and the names in a set. */
export function keepBeats(view: View): Pick<Store, 'beat' | 'beats'> {
  return {
    async beat(name, ttlMs, value) {
      await sendAll(
        view,
        view.redis.multi().sadd(view.key('beats'), name).set(view.key('beat', name), value, 'PX', ttlMs),
      );
    },
    async beats() {
      const names = (await ask(view, (redis) => redis.smembers(view.key('beats')))).toSorted();
      if (names.length === 0) return {};
      const values = await ask(view, (redis) => redis.mget(names.map((name) => view.key('beat', name))));
      const silent = names.filter((_, index) => typeof values[index] !== 'string');
      // Names may hold a process id: those that fell silent must not pile up. One that beats again comes back by itself.
      if (silent.length > 0) await ask(view, (redis) => redis.srem(view.key('beats'), ...silent));
      return Object.fromEntries(names.flatMap((name, index) => nameAndValue(name, values[index])));
    },
  };
}

function nameAndValue(name: string, value: string | null | undefined): [string, string][] {
  return typeof value === 'string' ? [[name, value]] : [];
}

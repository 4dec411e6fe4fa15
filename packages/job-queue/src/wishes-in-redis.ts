import type { RereadWish } from '@quayside/pipeline';
import { FolderName, Instant } from '@quayside/shoot';
import { z } from 'zod';
import type { Store } from './store.ts';
import { ask, parseRow, type View } from './view.ts';

const Wish: z.ZodType<RereadWish> = z.object({
  kind: z.enum(['shoot', 'destination']),
  id: FolderName,
  since: Instant,
});

const ADD_OR_GIVE = `
if redis.call('HSETNX', KEYS[1], ARGV[1], ARGV[2]) == 1 then return ARGV[2] end
return redis.call('HGET', KEYS[1], ARGV[1])`;

/** Keeps what people want to be read again, one wish for each shoot and destination. */
export function keepWishes(view: View): Pick<Store, 'rereadWishes' | 'wishReread' | 'dropRereadWish'> {
  const key = view.key('reread-wishes');
  const parse = (text: unknown): RereadWish | null => parseRow(view, Wish, { key, text });
  return {
    async rereadWishes() {
      const rows = await ask(view, (redis) => redis.hvals(key));
      const wishes = rows.flatMap((text) => parse(text) ?? []);
      return wishes.toSorted((one, other) => (one.since < other.since ? -1 : 1));
    },
    async wishReread(wish) {
      const text = JSON.stringify(wish);
      return parse(await ask(view, (redis) => redis.eval(ADD_OR_GIVE, 1, key, placeOf(wish), text))) ?? wish;
    },
    async dropRereadWish(wish) {
      await ask(view, (redis) => redis.hdel(key, placeOf(wish)));
    },
  };
}

function placeOf({ kind, id }: RereadWish): string {
  return `${kind} ${id}`;
}

import { KeptAnswer } from './kept-answer.ts';
import type { Store } from './store.ts';
import { ask, parseRow, type View } from './view.ts';

const ANSWERING_MS = 60_000;
const KEPT_MS = 24 * 60 * 60_000;

/** Keeps answers by idempotency key, each for a day. */
export function keepAnswers(view: View): Pick<Store, 'claimAnswer' | 'keepAnswer' | 'dropAnswer'> {
  const place = (key: string): string => view.key('answer', key);
  return {
    async claimAnswer(key, request) {
      const claim: KeptAnswer = { request, answer: null };
      // A process that dies while it answers must not block its key for a day.
      const text = JSON.stringify(claim);
      if ((await ask(view, (redis) => redis.set(place(key), text, 'PX', ANSWERING_MS, 'NX'))) !== null) return null;
      const known = await ask(view, (redis) => redis.get(place(key)));
      return parseRow(view, KeptAnswer, { key: place(key), text: known });
    },
    async keepAnswer(key, kept) {
      await ask(view, (redis) => redis.set(place(key), JSON.stringify(kept), 'PX', KEPT_MS));
    },
    async dropAnswer(key) {
      await ask(view, (redis) => redis.del(place(key)));
    },
  };
}

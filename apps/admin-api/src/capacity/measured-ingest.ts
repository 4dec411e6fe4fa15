import type { Store } from '@quayside/job-queue';
import { ingestRates, type RollTaken } from '@quayside/proxy-planning';

/** As many as are kept. */
const EVENTS = 20_000;

/** How fast rolls were taken in, from what happened to those that went their way without an interruption; oldest first. */
export async function measuredIngest(store: Store): Promise<readonly number[]> {
  const listed = new Map<string, number>();
  const taken: (Omit<RollTaken, 'bytes'> & { readonly rollId: string })[] = [];
  for (const { type, subject, at } of await store.eventsAfter('0', EVENTS)) {
    const fromMs = listed.get(subject);
    if (type === 'roll.listed') listed.set(subject, Date.parse(at));
    else if (type === 'roll.interrupted') listed.delete(subject);
    else if (type === 'roll.clear' && fromMs !== undefined) {
      listed.delete(subject);
      taken.push({ rollId: subject, fromMs, toMs: Date.parse(at) });
    }
  }
  const sizes = new Map((await store.rolls()).map(({ id, sizeInBytes }) => [id, sizeInBytes]));
  return ingestRates(taken.map(({ rollId, ...span }) => ({ ...span, bytes: sizes.get(rollId) ?? 0 })));
}

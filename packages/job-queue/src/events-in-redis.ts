import { QuaysideError, type StreamedEvent } from '@quayside/shoot';
import { followEvents } from './follow-events.ts';
import type { Store } from './store.ts';
import { lastEventId, parseEntries } from './stream-entries.ts';
import { ask, sendAll, type View } from './view.ts';

const KEPT_EVENTS = 10_000;

/** Keeps the event stream: about the last 10,000 events, each as one JSON field, numbered by Redis. */
export function keepEvents(view: View): Pick<Store, 'publish' | 'eventsAfter' | 'follow'> {
  const key = view.key('events');
  return {
    async publish(events) {
      if (events.length === 0) return;
      const commands = view.redis.multi();
      for (const event of events) commands.xadd(key, 'MAXLEN', '~', KEPT_EVENTS, '*', 'event', JSON.stringify(event));
      await sendAll(view, commands);
    },
    async eventsAfter(afterId, limit) {
      throwIfBadEventId(afterId);
      const entries = await ask(view, (redis) => redis.xrange(key, `(${afterId}`, '+', 'COUNT', limit));
      return parseEntries(view, entries);
    },
    follow(afterId, signal): AsyncIterable<StreamedEvent> {
      if (afterId !== '$') throwIfBadEventId(afterId);
      // Asked for now, not at the first `next()`: what is published in between belongs to "from now".
      const start = afterId === '$' ? lastEventId(view).catch(() => null) : Promise.resolve(afterId);
      return followEvents(view, start, signal);
    },
  };
}

function throwIfBadEventId(id: string): void {
  // Fewer digits than Redis would take: such an id came from no stream of ours, and a longer one may overflow.
  if (/^\d{1,18}(?:-\d{1,18})?$/.test(id)) return;
  throw new QuaysideError({
    code: 'EVENT_ID_UNKNOWN',
    sentence: `"${id.slice(0, 60)}" is not the id of an event. Give the id of the last event that was received, or 0 for all that are kept.`,
    retry: 'never',
  });
}

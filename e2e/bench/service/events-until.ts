import { setTimeout as wait } from 'node:timers/promises';
import type { EventType, StreamedEvent } from '@quayside/shoot';
import type { Service } from '../../service/start-service.ts';

// Each asking costs the service processor time that is measured, so it is seldom; times are taken from the events.
const ASK_EVERY_MS = 500;

export interface Waiting {
  /** The id after which to look; `'0'` for all that is kept. */
  readonly after: string;
  readonly withinMs: number;
  readonly everyMs?: number;
}

/** The events up to and with the first of one of these types. @throws Error with the service's last words when none comes in time. */
export async function eventsUntil(
  service: Service,
  types: readonly EventType[],
  { after, withinMs, everyMs = ASK_EVERY_MS }: Waiting,
): Promise<readonly StreamedEvent[]> {
  const deadline = performance.now() + withinMs;
  const events: StreamedEvent[] = [];
  let last = after;
  while (performance.now() < deadline) {
    const path = `/v1/events/list?limit=1000&after=${last}`;
    const page = await service.get<{ events: readonly StreamedEvent[]; next: string }>(path);
    for (const event of page.events) {
      events.push(event);
      if (types.includes(event.type)) return events;
    }
    last = page.next;
    if (page.events.length === 0) await wait(everyMs);
  }
  throw new Error(
    `No event of ${types.join(', ')} in ${withinMs} ms. The log ends with:\n${service.log.slice(-20).join('\n')}`,
  );
}

/** Milliseconds since 1970 of the last event of a type. @throws Error when there is none. */
export function timeOf(events: readonly StreamedEvent[], type: EventType): number {
  const event = events.findLast((one) => one.type === type);
  if (event === undefined) throw new Error(`There was no event ${type}.`);
  return Date.parse(event.at);
}

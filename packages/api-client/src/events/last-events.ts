import type { ApiClient } from '../create-client.ts';
import type { ServiceEvent } from './read-events.ts';

const PAGE = 1000;

/** The last `most` events that came after the one named (`0`: of all that are kept), oldest first. */
export async function lastEvents(
  client: ApiClient,
  { after, most }: { readonly after: string; readonly most: number },
): Promise<readonly ServiceEvent[]> {
  let last: readonly ServiceEvent[] = [];
  for (let place = after; ;) {
    const { events, next } = await client.get('/v1/events/list', { query: { after: place, limit: PAGE } });
    last = [...last, ...events].slice(-most);
    if (events.length < PAGE) return last;
    place = next;
  }
}

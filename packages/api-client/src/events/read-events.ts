import { events } from 'fetch-event-stream';
import type { AnswerOf } from '../calls/typed-calls.ts';
import type { ApiClient } from '../create-client.ts';
import { brokenOff } from '../failures/no-answer-error.ts';

/** One thing that happened. */
export type ServiceEvent = AnswerOf<'get', '/v1/events/list'>['events'][number];

/** The service sends something every 15 seconds; a line that is silent for this long is dead. */
const SILENT_FOR_MS = 40_000;

/**
 * The events from after the one named, or from now on, until the stream ends, the line falls silent or the signal aborts. Read by
 * `fetch`, because a browser's EventSource sends no headers and Node has none.
 * @throws what the call throws, and NoAnswerError `ANSWER_BROKEN_OFF` for a line that breaks or falls silent.
 */
export async function* readEvents(
  client: ApiClient,
  {
    after,
    signal,
    opened = () => undefined,
  }: { readonly after: string | null; readonly signal: AbortSignal; readonly opened?: () => void },
): AsyncGenerator<ServiceEvent, void, undefined> {
  const line = new AbortController();
  let timer: ReturnType<typeof setTimeout> | undefined;
  const heard = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => line.abort(), SILENT_FOR_MS);
  };
  heard();
  try {
    const response = await client.open('/v1/events', {
      headers: after === null ? {} : { 'last-event-id': after },
      signal: AbortSignal.any([signal, line.signal]),
    });
    opened();
    if (response.body === null) return;
    // Also what is no event, such as the comments that keep the line open, is a sign of life.
    const listened = response.body.pipeThrough(
      new TransformStream<Uint8Array, Uint8Array>({
        transform(bytes, onwards) {
          heard();
          onwards.enqueue(bytes);
        },
      }),
    );
    const frames = events(new Response(listened));
    for (;;) {
      const { done, value } = await frames.next().catch((error: unknown) => {
        signal.throwIfAborted();
        throw brokenOff(client.address, error);
      });
      // `bye` is the last word of a service that stops.
      if (done === true || value.event === 'bye') return;
      const event = eventIn(value.data);
      if (event !== null) yield event;
    }
  } finally {
    clearTimeout(timer);
    // Whoever stops listening leaves no stream open.
    line.abort();
  }
}

/** A newer service may tell of things that are unknown here; what can be neither named nor resumed after is passed over. */
function eventIn(data: string | undefined): ServiceEvent | null {
  const event = JSON.parse(data ?? 'null') as Partial<ServiceEvent> | null;
  const isEvent = [event?.id, event?.type, event?.at, event?.sentence].every((text) => typeof text === 'string');
  return isEvent ? (event as ServiceEvent) : null;
}

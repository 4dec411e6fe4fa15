import { EventAnswer } from '@quayside/admin-api/page-answers';
import { EventSourceParserStream } from 'eventsource-parser/stream';
import type { Service } from './call-service.ts';

/** The service sends something every 15 seconds; a line that is silent for this long is dead. */
const SILENT_FOR_MS = 40_000;

/**
 * The events from after the one named, or from now on, until the stream ends, the line falls silent or the signal aborts. The
 * browser's own EventSource cannot send the key of the sign-in, so the stream is read by `fetch`.
 * @throws ServiceTrouble, and whatever a broken line throws.
 */
export async function* followEvents(
  service: Service,
  after: string | null,
  signal: AbortSignal,
): AsyncGenerator<EventAnswer, void, undefined> {
  const silence = new AbortController();
  let timer: ReturnType<typeof setTimeout> | undefined;
  const heard = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => silence.abort(), SILENT_FOR_MS);
  };
  heard();
  const headers: Record<string, string> = after === null ? {} : { 'last-event-id': after };
  try {
    const response = await service.open('/v1/events', headers, AbortSignal.any([signal, silence.signal]));
    if (response.body === null) return;
    const messages = response.body
      .pipeThrough(new TextDecoderStream())
      .pipeThrough(new EventSourceParserStream({ onComment: heard }))
      // Not every browser can loop over a stream.
      .getReader();
    for (;;) {
      const { done, value } = await messages.read();
      // `bye` is the last word of a service that stops.
      if (done || value.event === 'bye') return;
      heard();
      const event = EventAnswer.safeParse(JSON.parse(value.data));
      if (event.success) yield event.data;
    }
  } finally {
    clearTimeout(timer);
  }
}

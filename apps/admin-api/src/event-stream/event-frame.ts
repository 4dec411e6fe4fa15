import type { StreamedEvent } from '@quayside/shoot';

/** An event in the form of the HTML standard's section 9.2, "Server-sent events". JSON text holds no line break, so one `data` line does. */
export function eventFrame(event: StreamedEvent): string {
  return `id: ${event.id}\nevent: ${event.type}\ndata: ${JSON.stringify(event)}\n\n`;
}

/** The last thing a client hears when the service stops: it may come back later, after the last id it saw. */
export const BYE_FRAME = 'event: bye\ndata: {"sentence":"The service stops; connect again when it is back."}\n\n';

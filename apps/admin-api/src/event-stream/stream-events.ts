import type { ServerResponse } from 'node:http';
import type { StreamedEvent } from '@quayside/shoot';
import { eventFrame } from './event-frame.ts';

export interface StreamLimits {
  /** A comment goes out this often, so that both ends notice a dead line. */
  readonly heartbeatMs: number;
  /** A client that does not take what was written for this long is cut off; it resumes after the last id it saw. */
  readonly stallMs: number;
}

/**
 * Sends events to one client until the signal aborts or the client leaves. Nothing is buffered beyond one event: the next
 * is taken from the stream only when the client has taken the last, so a slow client costs no memory.
 */
export async function streamEvents(
  response: ServerResponse,
  events: AsyncIterable<StreamedEvent>,
  { heartbeatMs, stallMs }: StreamLimits,
): Promise<void> {
  const heartbeat = setInterval(() => {
    if (response.writableNeedDrain) return;
    response.write(': still here\n\n');
  }, heartbeatMs);
  try {
    response.write('retry: 2000\n\n');
    for await (const event of events) {
      if (response.destroyed) return;
      if (!response.write(eventFrame(event)) && !(await hasDrained(response, stallMs))) {
        response.destroy();
        return;
      }
    }
  } finally {
    clearInterval(heartbeat);
  }
}

async function hasDrained(response: ServerResponse, stallMs: number): Promise<boolean> {
  return new Promise((resolve) => {
    const settle = (drained: boolean): void => {
      clearTimeout(timer);
      response.off('drain', onDrain).off('close', onClose);
      resolve(drained);
    };
    const onDrain = (): void => settle(true);
    const onClose = (): void => settle(false);
    const timer = setTimeout(() => settle(false), stallMs);
    response.once('drain', onDrain).once('close', onClose);
  });
}

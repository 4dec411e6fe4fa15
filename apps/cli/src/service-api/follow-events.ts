import { setTimeout as pause } from 'node:timers/promises';
import { EventAnswer } from '@quayside/admin-api';
import { failureOf } from '@quayside/shoot';
import { bodyOf, type ServiceApi } from './call-api.ts';

/**
 * Yields events as they happen until the signal aborts. When the service goes away it is told once to `remark`, and the
 * stream goes on, without a gap, after the last event once the service is back.
 */
export async function* followEvents(
  reach: () => Promise<ServiceApi>,
  signal: AbortSignal,
  remark: (sentence: string) => void,
): AsyncGenerator<EventAnswer, void, undefined> {
  let last: string | null = null;
  let isAway = false;
  while (!isOver(signal)) {
    try {
      const service = await reach();
      const headers: Record<string, string> = last === null ? {} : { 'last-event-id': last };
      const response = await service.open('/v1/events', { headers, signal });
      if (!response.ok || response.body === null) await bodyOf(response, service.url);
      if (isAway) remark('The service is back.');
      isAway = false;
      for await (const event of eventsIn(response)) {
        last = event.id;
        yield event;
      }
      if (!isOver(signal)) remark('The service has stopped; waiting for it to come back.');
    } catch (error) {
      if (isOver(signal)) return;
      // A first failure that no waiting mends belongs to the operator.
      const failure = failureOf(error);
      if (failure.retry === 'never') throw error;
      if (!isAway) remark(failure.sentence);
    }
    isAway = true;
    await pause(1_000, undefined, { signal }).catch(() => undefined);
  }
}

// A function, because the compiler takes `signal.aborted` for settled after the first look at it.
function isOver(signal: AbortSignal): boolean {
  return signal.aborted;
}

/** The events of one answer; comments, and the service's `bye`, are passed over. */
async function* eventsIn(response: Response): AsyncGenerator<EventAnswer, void, undefined> {
  const decoder = new TextDecoder();
  let text = '';
  for await (const chunk of response.body ?? []) {
    text += decoder.decode(chunk, { stream: true });
    const frames = text.split('\n\n');
    text = frames.pop() ?? '';
    for (const frame of frames) {
      const data = /^data: (.*)$/m.exec(frame)?.[1];
      const event = data === undefined ? null : EventAnswer.safeParse(JSON.parse(data));
      if (event?.success === true) yield event.data;
    }
  }
}

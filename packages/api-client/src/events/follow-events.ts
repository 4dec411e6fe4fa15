import { failureOf } from '@quayside/shoot';
import type { ApiClient } from '../create-client.ts';
import { readEvents, type ServiceEvent } from './read-events.ts';

const RECONNECT_AFTER_MS = 1_000;

/**
 * Yields events as they happen until the signal aborts. When the service goes away it is told once to `remark`, and the
 * stream goes on, without a gap, after the last event once the service is back. `reach` finds the service anew for each try,
 * since it may come back under another address.
 * @throws what no waiting mends, such as a token that does not count.
 */
export async function* followEvents(
  reach: () => ApiClient | Promise<ApiClient>,
  {
    after = null,
    signal,
    remark = () => undefined,
  }: { readonly after?: string | null; readonly signal: AbortSignal; readonly remark?: (sentence: string) => void },
): AsyncGenerator<ServiceEvent, void, undefined> {
  let last = after;
  let isAway = false;
  while (!isOver(signal)) {
    try {
      const opened = (): void => {
        if (isAway) remark('The service is back.');
        isAway = false;
      };
      for await (const event of readEvents(await reach(), { after: last, signal, opened })) {
        last = event.id;
        yield event;
      }
      if (!isOver(signal)) remark('The service has stopped; waiting for it to come back.');
    } catch (error) {
      if (isOver(signal)) return;
      const failure = failureOf(error);
      if (failure.retry === 'never') throw error;
      if (!isAway) remark(failure.sentence);
    }
    isAway = true;
    await pause(RECONNECT_AFTER_MS, signal);
  }
}

// A function, because the compiler takes `signal.aborted` for settled after the first look at it.
function isOver(signal: AbortSignal): boolean {
  return signal.aborted;
}

async function pause(ms: number, signal: AbortSignal): Promise<void> {
  await new Promise<void>((resolve) => {
    const end = (): void => {
      clearTimeout(timer);
      signal.removeEventListener('abort', end);
      resolve();
    };
    const timer = setTimeout(end, ms);
    signal.addEventListener('abort', end);
  });
}

import { EventAnswer } from '@quayside/admin-api/page-answers';
import { z } from 'zod';
import type { Service } from './call-service.ts';

const Events = z.object({ events: z.array(EventAnswer), next: z.string() });
const LOOK_BACK_MS = 12 * 60 * 60_000;
const PAGE = 1000;

/**
 * The events of the last hours, oldest first, at most `most`. Ids begin with the milliseconds of the service's clock, so the
 * list can be entered in its middle.
 */
export async function recentEvents(service: Service, nowMs: number, most: number): Promise<readonly EventAnswer[]> {
  let after = `${Math.max(0, Math.trunc(nowMs - LOOK_BACK_MS))}-0`;
  let recent: readonly EventAnswer[] = [];
  for (;;) {
    const { body } = await service.ask(`/v1/events/list?after=${after}&limit=${PAGE}`, Events);
    recent = [...recent, ...body.events].slice(-most);
    if (body.events.length < PAGE) return recent;
    after = body.next;
  }
}

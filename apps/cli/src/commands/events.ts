import { EventAnswer } from '@quayside/admin-api';
import { z } from 'zod';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { printable } from '../screen/printable.ts';
import { momentText } from '../screen/quantities.ts';
import { remark, say } from '../screen/say.ts';
import { reachService } from '../service-api/call-api.ts';
import { followEvents } from '../service-api/follow-events.ts';

export interface EventsOptions {
  readonly config?: string;
  readonly json?: boolean;
  readonly follow?: boolean;
  readonly last: number;
}

/** Shows what happened last, or with `follow` what happens from now on until the signal aborts. */
export async function showEvents(options: EventsOptions, signal: AbortSignal): Promise<ExitCode> {
  const { configuration } = await findConfiguration(options.config);
  const line = (event: EventAnswer): string =>
    options.json === true
      ? JSON.stringify(event)
      : `${momentText(event.at)}  ${event.type.padEnd(16)}  ${printable(event.sentence)}`;
  if (options.follow === true) {
    for await (const event of followEvents(async () => reachService(configuration), signal, remark)) say(line(event));
    return EXIT.interrupted;
  }
  const service = await reachService(configuration);
  let shown: EventAnswer[] = [];
  for (let after = '0', isMore = true; isMore;) {
    const page = await service.get(`/v1/events/list?limit=1000&after=${after}`, Page);
    shown = [...shown, ...page.events].slice(-options.last);
    isMore = page.events.length > 0;
    after = page.next;
  }
  say(...shown.map(line));
  return EXIT.ok;
}

const Page = z.object({ events: z.array(EventAnswer), next: z.string() });

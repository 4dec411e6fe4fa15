import { type ApiClient, followEvents, lastEvents, type ServiceEvent } from '@quayside/api-client';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { printable } from '../screen/printable.ts';
import { momentText } from '../screen/quantities.ts';
import { remark, say } from '../screen/say.ts';
import { reachService } from '../service-api/reach-service.ts';

export interface EventsOptions {
  readonly config?: string;
  readonly json?: boolean;
  readonly follow?: boolean;
  readonly last: number;
}

/** Shows what happened last, or with `follow` what happens from now on until the signal aborts. */
export async function showEvents(options: EventsOptions, signal: AbortSignal): Promise<ExitCode> {
  const { configuration } = await findConfiguration(options.config);
  const line = (event: ServiceEvent): string =>
    options.json === true
      ? JSON.stringify(event)
      : `${momentText(event.at)}  ${event.type.padEnd(16)}  ${printable(event.sentence)}`;
  const reach = async (): Promise<ApiClient> => reachService(configuration);
  if (options.follow === true) {
    for await (const event of followEvents(reach, { signal, remark })) say(line(event));
    return EXIT.interrupted;
  }
  say(...(await lastEvents(await reach(), { after: '0', most: options.last })).map(line));
  return EXIT.ok;
}

import type { Configuration } from '@quayside/configuration';
import { commandChannel } from '@quayside/plugin-channel-command';
import { emailChannel } from '@quayside/plugin-channel-email';
import { webhookChannel } from '@quayside/plugin-channel-webhook';
import type { Channel } from '@quayside/channel-contract';

/** A configured channel: what sends, and with which settings. */
export interface ConfiguredChannel {
  readonly name: string;
  readonly channel: Channel;
  readonly settings: unknown;
}

const KINDS: readonly Channel[] = [emailChannel, webhookChannel, commandChannel];

/** The channels of a configuration, by name. */
export function channelsOf({ messages }: Pick<Configuration, 'messages'>): ReadonlyMap<string, ConfiguredChannel> {
  const kinds: Readonly<Record<string, Readonly<Record<string, unknown>>>> = {
    email: messages.email,
    webhook: messages.webhook,
    command: messages.command,
  };
  const all = KINDS.flatMap((channel) =>
    Object.entries(kinds[channel.kind] ?? {}).map(([name, settings]) => ({ name, channel, settings })),
  );
  return new Map(all.map((one) => [one.name, one]));
}

/** Whether anybody is to be told anything beyond the log. */
export function hasChannels(configuration: Pick<Configuration, 'messages'>): boolean {
  return channelsOf(configuration).size > 0;
}

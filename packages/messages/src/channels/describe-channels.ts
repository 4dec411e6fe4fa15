import type { CommandSettings, EmailSettings, WebhookSettings } from './channel-settings.ts';

/** A channel as people may see it: nothing of it is secret. */
export interface DescribedChannel {
  readonly name: string;
  readonly kind: 'email' | 'webhook' | 'command';
  /** Where its letters go. */
  readonly address: string;
}

export interface ChannelsByKind {
  readonly email: Readonly<Record<string, EmailSettings>>;
  readonly webhook: Readonly<Record<string, WebhookSettings>>;
  readonly command: Readonly<Record<string, CommandSettings>>;
}

/** The channels of a configuration, by name, without anything that is secret or might be. */
export function describeChannels({ email, webhook, command }: ChannelsByKind): readonly DescribedChannel[] {
  const all: DescribedChannel[] = [
    ...Object.entries(email).map(([name, { to, host }]) => ({
      name,
      kind: 'email' as const,
      address: `${to.join(', ')} by ${host}`,
    })),
    ...Object.entries(webhook).map(([name, { url }]) => ({ name, kind: 'webhook' as const, address: hostOf(url) })),
    ...Object.entries(command).map(
      ([
        name,
        {
          command: [program = ''],
        },
      ]) => ({
        name,
        kind: 'command' as const,
        address: program,
      }),
    ),
  ];
  return all.toSorted((one, other) => (one.name < other.name ? -1 : 1));
}

/** What follows the host is often all that keeps strangers out. */
function hostOf(url: string): string {
  return /^https?:\/\/[^/?#]+/i.exec(url)?.[0] ?? '';
}

import type { Configuration } from './configuration-schema.ts';
import { withoutPassword } from './fault.ts';

/**
 * The configuration as those may see it who may not see secrets. Left out, as `***`, are the password of Redis, what follows the
 * host in the address of a webhook, the arguments of commands, and values of plugins whose name says that they are secret. Where a
 * secret is found is no secret.
 */
export function shownConfiguration(configuration: Configuration): Record<string, unknown> {
  const { redis, messages, plugins, ...rest } = configuration;
  return {
    ...rest,
    redis: redis.url === undefined ? {} : { url: withoutPassword(redis.url) },
    plugins: plugins.map((plugin) => ({ ...plugin, config: masked(plugin.config) })),
    messages: {
      ...messages,
      webhook: mapValues(messages.webhook, (channel) => ({ ...channel, url: hostOf(channel.url) })),
      command: mapValues(messages.command, ({ command: [program = '', ...more], ...channel }) => ({
        ...channel,
        command: [program, ...more.map(() => HIDDEN)],
      })),
    },
  };
}

const HIDDEN = '***';
const SECRET_NAME = /pass|secret|token|key|credential/i;

function masked(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(masked);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, inner]) => [name, SECRET_NAME.test(name) ? HIDDEN : masked(inner)]),
  );
}

function hostOf(url: string): string {
  const [host = ''] = /^https?:\/\/[^/?#]+/i.exec(url) ?? [];
  return url.length > host.length ? `${host}/${HIDDEN}` : host;
}

function mapValues<Value, Mapped>(
  values: Readonly<Record<string, Value>>,
  map: (value: Value) => Mapped,
): Record<string, Mapped> {
  return Object.fromEntries(Object.entries(values).map(([name, value]) => [name, map(value)]));
}

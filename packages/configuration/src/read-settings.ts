import { parseArgs } from 'node:util';
import { QuaysideError } from '@quayside/shoot';
import type { Configuration } from './configuration-schema.ts';
import { readConfiguration } from './read-configuration.ts';

export interface SettingsSources {
  /** The command line after the program's name. */
  readonly argv: readonly string[];
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Where the supervisor says that Redis answers, or null when there is no supervisor. */
  readonly redisFromSupervisor: () => Promise<string | null>;
}

export interface Settings {
  readonly configuration: Configuration;
  /** A URL, or the path of a socket. It may hold a password. */
  readonly redis: string;
}

/**
 * What one process of the service is to work with: `--config FILE`, and the Redis that `--redis`, the supervisor, or
 * `QUAYSIDE_REDIS` names, in this order. The last two because everybody on the machine may read a command line.
 * @throws QuaysideError `USAGE`, and as `readConfiguration` does.
 */
export async function readSettings({ argv, environment, redisFromSupervisor }: SettingsSources): Promise<Settings> {
  const { values } = parseArgs({ args: [...argv], options: { config: { type: 'string' }, redis: { type: 'string' } } });
  if (values.config === undefined) throw usage();
  const [configuration, supervised] = await Promise.all([
    readConfiguration(values.config, environment),
    values.redis ?? redisFromSupervisor(),
  ]);
  const redis = supervised ?? environment['QUAYSIDE_REDIS'] ?? '';
  if (redis === '') throw usage();
  return { configuration, redis };
}

function usage(): QuaysideError {
  const sentence =
    'This process wants --config FILE, and the address of Redis in QUAYSIDE_REDIS or as --redis ADDRESS; start it with `quayside start`.';
  return new QuaysideError({ code: 'USAGE', sentence, retry: 'never' });
}

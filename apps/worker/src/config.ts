import { parseArgs } from 'node:util';
import { readConfiguration, type Configuration } from '@quayside/configuration';
import { redisAddressFrom, type RedisAddress } from '@quayside/job-queue';
import { QuaysideError } from '@quayside/shoot';

/**
 * Which configuration, from the command line, and where Redis answers: from `QUAYSIDE_REDIS`, because everybody on the
 * machine may read a command line and the address may hold a password. `--redis` goes before it, to run this process alone.
 */
export async function readSettings(
  argv: string[],
): Promise<{ readonly configuration: Configuration; readonly redis: RedisAddress }> {
  const { values } = parseArgs({ args: argv, options: { config: { type: 'string' }, redis: { type: 'string' } } });
  const redis = values.redis ?? process.env['QUAYSIDE_REDIS'] ?? '';
  if (values.config === undefined || redis === '') {
    throw new QuaysideError({
      code: 'USAGE',
      sentence:
        'This process wants --config FILE, and the address of Redis in QUAYSIDE_REDIS or as --redis ADDRESS; start it with `quayside start`.',
      retry: 'never',
    });
  }
  return { configuration: await readConfiguration(values.config, process.env), redis: redisAddressFrom(redis) };
}

/** What the configuration says to each step. */
export function configOf(step: string, configuration: Configuration): unknown {
  if (step === 'ingest' || step === 'recopy') return { hashes: configuration.hashes };
  return step === 'sync-grouping' ? configuration.grouping : {};
}

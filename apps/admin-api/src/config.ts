import { parseArgs } from 'node:util';
import { readConfiguration, type Configuration } from '@quayside/configuration';
import { redisAddressFrom, type RedisAddress } from '@quayside/job-queue';
import { QuaysideError } from '@quayside/shoot';

export interface Settings {
  readonly configuration: Configuration;
  readonly redis: RedisAddress;
  /** As configured, unless `--port` says otherwise. */
  readonly port: number;
}

/**
 * Which configuration and maybe another port, from the command line, and where Redis answers: from `QUAYSIDE_REDIS`, because
 * everybody on the machine may read a command line and the address may hold a password. `--redis` goes before it, to run
 * this process alone.
 */
export async function readSettings(argv: string[]): Promise<Settings> {
  const options = { config: { type: 'string' }, redis: { type: 'string' }, port: { type: 'string' } } as const;
  const { values } = parseArgs({ args: argv, options });
  const port = values.port === undefined ? null : Number(values.port);
  const isPort = port === null || (Number.isInteger(port) && port >= 0 && port <= 65_535);
  const redis = values.redis ?? process.env['QUAYSIDE_REDIS'] ?? '';
  if (values.config === undefined || redis === '' || !isPort) {
    throw new QuaysideError({
      code: 'USAGE',
      sentence:
        'The API wants --config FILE, the address of Redis in QUAYSIDE_REDIS or as --redis ADDRESS, and --port as a number when it is given; start it with `quayside start`.',
      retry: 'never',
    });
  }
  const configuration = await readConfiguration(values.config, process.env);
  return { configuration, redis: redisAddressFrom(redis), port: port ?? configuration.api.port };
}

import { parseArgs } from 'node:util';
import { readConfiguration, type Configuration } from '@quayside/configuration';
import type { RedisAddress } from '@quayside/job-queue';
import { QuaysideError } from '@quayside/shoot';

export interface Settings {
  readonly configuration: Configuration;
  readonly redis: RedisAddress;
  /** As configured, unless `--port` says otherwise. */
  readonly port: number;
}

/** What the supervisor says on the command line: which configuration, where Redis answers, and maybe another port. */
export async function readSettings(argv: string[]): Promise<Settings> {
  const options = { config: { type: 'string' }, redis: { type: 'string' }, port: { type: 'string' } } as const;
  const { values } = parseArgs({ args: argv, options });
  const port = values.port === undefined ? null : Number(values.port);
  const isPort = port === null || (Number.isInteger(port) && port >= 0 && port <= 65_535);
  if (values.config === undefined || values.redis === undefined || !isPort) {
    throw new QuaysideError({
      code: 'USAGE',
      sentence:
        'The API wants --config FILE and --redis ADDRESS, and --port as a number when it is given; start it with `quayside start`.',
      retry: 'never',
    });
  }
  const configuration = await readConfiguration(values.config, process.env);
  const redis: RedisAddress = values.redis.startsWith('/')
    ? { kind: 'socket', path: values.redis }
    : { kind: 'url', url: values.redis };
  return { configuration, redis, port: port ?? configuration.api.port };
}

import { parseArgs } from 'node:util';
import { readConfiguration, type Configuration } from '@quayside/configuration';
import type { RedisAddress } from '@quayside/job-queue';
import { QuaysideError } from '@quayside/shoot';

/** What the supervisor says on the command line: which configuration, and where Redis answers. */
export async function readSettings(
  argv: string[],
): Promise<{ readonly configuration: Configuration; readonly redis: RedisAddress }> {
  const { values } = parseArgs({ args: argv, options: { config: { type: 'string' }, redis: { type: 'string' } } });
  if (values.config === undefined || values.redis === undefined) {
    throw new QuaysideError({
      code: 'USAGE',
      sentence: 'This process wants --config FILE and --redis ADDRESS; start it with `quayside start`.',
      retry: 'never',
    });
  }
  const redis: RedisAddress = values.redis.startsWith('/')
    ? { kind: 'socket', path: values.redis }
    : { kind: 'url', url: values.redis };
  return { configuration: await readConfiguration(values.config, process.env), redis };
}

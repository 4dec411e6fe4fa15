import { dirname, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { readSettings, type Settings } from '@quayside/configuration';
import { redisFromSupervisor } from '@quayside/service-process';

export interface GuestSettings extends Settings {
  /** The folder of the configuration, which paths of plugins begin at. */
  readonly folder: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
}

/** What this process is to work with: the one place where its command line and environment are read. */
export async function settings(): Promise<GuestSettings> {
  const argv = process.argv.slice(2);
  const found = await readSettings({ argv, environment: process.env, redisFromSupervisor });
  const { values } = parseArgs({ args: argv, options: { config: { type: 'string' } }, strict: false });
  return { ...found, folder: dirname(resolve(String(values['config']))), environment: process.env };
}

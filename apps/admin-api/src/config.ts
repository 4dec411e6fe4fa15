import { readSettings, type Settings } from '@quayside/configuration';
import { redisFromSupervisor } from '@quayside/service-process';

/** What this process is to work with: the one place where its command line and environment are read. */
export function settings(): Promise<Settings> {
  return readSettings({ argv: process.argv.slice(2), environment: process.env, redisFromSupervisor });
}

/** Where the status page's files lie, as the supervisor says; undefined when there is no page to serve. */
export function pageFolder(): string | undefined {
  return process.env['QUAYSIDE_PAGE'];
}

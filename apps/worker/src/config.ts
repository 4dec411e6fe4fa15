import { readSettings, type Configuration, type Settings } from '@quayside/configuration';
import { redisFromSupervisor } from '@quayside/service-process';
import { proxyPolicyOf } from './shoots/planning.ts';

/** What this process is to work with: the one place where its command line and environment are read. */
export function settings(): Promise<Settings> {
  return readSettings({ argv: process.argv.slice(2), environment: process.env, redisFromSupervisor });
}

/** The environment, for the secrets of channels and the programs that they start. */
export function environment(): Readonly<Record<string, string | undefined>> {
  return process.env;
}

/** What the configuration says to each step. */
export function configOf(step: string, configuration: Configuration): unknown {
  if (step === 'ingest') return { hashes: configuration.hashes, reads: configuration.verify.source };
  if (step === 'recopy') return { hashes: configuration.hashes };
  if (step === 'proxy-planning') return proxyPolicyOf(configuration);
  return step === 'sync-grouping' ? configuration.grouping : {};
}

import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { type Configuration, readConfiguration } from '@quayside/configuration';

export interface FoundConfiguration {
  readonly file: string;
  readonly configuration: Configuration;
}

/**
 * The configuration that a command works with: the file named on the command line, else by `QUAYSIDE_CONFIG`, else
 * `quayside.yaml` in the current folder, else the user's own (XDG Base Directory Specification 0.8).
 * @throws QuaysideError as `readConfiguration` does.
 */
export async function findConfiguration(named: string | undefined): Promise<FoundConfiguration> {
  const file = resolve(named ?? nonEmpty(process.env['QUAYSIDE_CONFIG']) ?? defaultFile());
  return { file, configuration: await readConfiguration(file, process.env) };
}

function defaultFile(): string {
  if (existsSync('quayside.yaml')) return 'quayside.yaml';
  const home = process.env['HOME'] ?? '/';
  const configured = process.env['XDG_CONFIG_HOME'];
  // A relative path in an XDG variable is invalid and must be ignored (same specification).
  const folder = configured?.startsWith('/') === true ? configured : join(home, '.config');
  const ofUser = join(folder, 'quayside', 'quayside.yaml');
  // Where neither is, the file that a person would write first is the one to name in the message.
  return existsSync(ofUser) ? ofUser : 'quayside.yaml';
}

function nonEmpty(text: string | undefined): string | undefined {
  return text === '' ? undefined : text;
}

import { QuaysideError } from '@quayside/shoot';
import { semanticFaults } from './semantic-faults.ts';
import type { Configuration } from './configuration-schema.ts';
import { ConfigurationFile } from './configuration-schema.ts';
import type { Environment } from './default-data-folder.ts';
import { defaultDataFolder } from './default-data-folder.ts';
import type { Fault } from './fault.ts';
import { describeFaults } from './fault.ts';
import { parseYaml } from './parse-yaml.ts';
import { schemaFaults } from './schema-faults.ts';

/** What the defaults depend on, and the name of the file for messages. */
export interface Surroundings {
  readonly file: string;
  readonly env: Environment;
  /** As in `process.platform`. */
  readonly platform: string;
}

/**
 * The configuration in a YAML text, checked in form and in sense. The same text and surroundings give the same result.
 * @throws QuaysideError `CONFIG_INVALID`, whose sentence lists every fault with line, column, key and remedy.
 */
export function parseConfiguration(text: string, { file, env, platform }: Surroundings): Configuration {
  const yaml = parseYaml(text, file);
  if (!yaml.ok) throw invalid(file, yaml.lines);
  const failWith = (faults: readonly Fault[]): QuaysideError => invalid(file, describeFaults(faults, yaml.file));

  const parsed = ConfigurationFile.safeParse(yaml.value);
  if (!parsed.success) throw failWith(schemaFaults(parsed.error.issues, yaml.value));
  const data = parsed.data.data ?? defaultDataFolder(env);
  if (data === null) throw failWith([NO_DATA_FOLDER]);

  const roots = parsed.data.watch.roots ?? (platform === 'darwin' ? MACOS_ROOTS : LINUX_ROOTS);
  const configuration = { ...parsed.data, data, watch: { ...parsed.data.watch, roots: [...roots] } };
  const faults = semanticFaults(configuration);
  if (faults.length > 0) throw failWith(faults);
  return configuration;
}

function invalid(file: string, lines: readonly string[]): QuaysideError {
  const [only] = lines;
  const sentence =
    lines.length === 1
      ? `${only}.`
      : `${file} has ${lines.length} faults:\n${lines.map((line) => `  ${line}.`).join('\n')}`;
  return new QuaysideError({ code: 'CONFIG_INVALID', sentence: sentence.replaceAll('?.', '?'), retry: 'never' });
}

const NO_DATA_FOLDER: Fault = {
  path: ['data'],
  at: 'key',
  what: 'has no default here, since none of STATE_DIRECTORY, XDG_STATE_HOME and HOME is set',
  remedy: 'add `data: /var/lib/quayside` or another absolute path',
};

const LINUX_ROOTS = ['/media', '/run/media', '/mnt'];
const MACOS_ROOTS = ['/Volumes'];

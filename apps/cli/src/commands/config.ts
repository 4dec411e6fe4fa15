import { configurationJsonSchema, effectiveConfiguration } from '@quayside/configuration';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { say } from '../screen/say.ts';

export interface ConfigOptions {
  readonly config?: string;
  readonly schema?: boolean;
  readonly check?: boolean;
}

/** Prints the effective configuration as YAML or the JSON Schema of the file, or only checks it. */
export async function showConfig(options: ConfigOptions): Promise<ExitCode> {
  if (options.schema === true) {
    say(JSON.stringify(configurationJsonSchema(), null, 2));
    return EXIT.ok;
  }
  const { file, configuration } = await findConfiguration(options.config);
  if (options.check === true) say(`${file} is a good configuration.`);
  else say(effectiveConfiguration(configuration).trimEnd());
  return EXIT.ok;
}

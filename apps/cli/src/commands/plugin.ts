import { join, resolve } from 'node:path';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { newPlugin } from '../plugin-new/new-plugin.ts';
import { say } from '../screen/say.ts';

export interface PluginOptions {
  readonly in: string;
}

/** Makes a folder with a plugin to start from, and says how to go on. */
export async function makePlugin(name: string, options: PluginOptions): Promise<ExitCode> {
  const folder = resolve(options.in, name);
  await newPlugin(name, folder);
  say(
    `${folder} holds a plugin with one step and its test. Now:`,
    `  cd ${join(options.in, name)}`,
    '  npm install',
    '  npm run check',
    '  npm test',
    'The step is in src/index.ts; README.md tells how to use it.',
  );
  return EXIT.ok;
}

import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';

/** Writes a plugin with one step on clips that does nothing, and returns its path. Another version is run on everything anew. */
export async function layNoOpPlugin(folder: string, version = 1): Promise<string> {
  const file = join(folder, 'no-op.ts');
  await writeFile(file, textOf(version));
  return file;
}

const textOf = (version: number): string => `import { definePlugin, defineStep } from '@quayside/step-sdk';
const work = defineStep({ name: 'work', scope: 'clip', run: async () => undefined });
export default definePlugin({ apiVersion: 1, name: 'no-op', version: '${version}', steps: [work] });
`;

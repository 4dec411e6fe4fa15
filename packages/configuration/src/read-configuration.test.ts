import { chmod, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { parseConfiguration } from './parse-configuration.ts';
import { readConfiguration, SMALLEST_EXAMPLE } from './read-configuration.ts';

const env = { HOME: '/home/pat' };
let folder = '';

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-configuration-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

test('a file is read as its text says', async () => {
  const file = join(folder, 'good.yaml');
  await writeFile(file, SMALLEST_EXAMPLE);
  expect(await readConfiguration(file, env)).toStrictEqual(
    parseConfiguration(SMALLEST_EXAMPLE, { file, env, platform: process.platform }),
  );
});

test('a missing file is answered with an example that works', async () => {
  const file = join(folder, 'missing.yaml');
  const failure = await readConfiguration(file, env).catch((error: unknown) => error);
  expect(failure).toMatchObject({ code: 'CONFIG_MISSING', retry: 'never', message: expect.stringContaining(file) });
  const [, example] = (failure as Error).message.split('\n\n');
  expect(parseConfiguration(example ?? '', { file, env, platform: 'linux' }).destinations).toHaveLength(2);
});

test('a folder is not a configuration', async () => {
  await expect(readConfiguration(folder, env)).rejects.toMatchObject({
    code: 'CONFIG_UNREADABLE',
    message: expect.stringContaining('name the file in it'),
  });
});

test.skipIf(process.getuid?.() === 0)(
  'a file without read permission says so (skipped as root, who may read all)',
  async () => {
    const file = join(folder, 'locked.yaml');
    await writeFile(file, SMALLEST_EXAMPLE);
    await chmod(file, 0);
    await expect(readConfiguration(file, env)).rejects.toMatchObject({
      code: 'CONFIG_UNREADABLE',
      message: expect.stringContaining('may not read it'),
    });
  },
);

test.each([
  ['UTF-16', Buffer.from(`\uFEFF${SMALLEST_EXAMPLE}`, 'utf16le')],
  ['Latin-1', Buffer.from('# café\n', 'latin1')],
])('%s text is told to be saved as UTF-8', async (name, bytes) => {
  const file = join(folder, `${name}.yaml`);
  await writeFile(file, bytes);
  await expect(readConfiguration(file, env)).rejects.toMatchObject({
    code: 'CONFIG_INVALID',
    message: `${file}:1:1 is not UTF-8 text; save it as UTF-8.`,
  });
});

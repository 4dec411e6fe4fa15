import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { readSettings } from './config.ts';

let folder: string;
let args: string[];
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-settings-'));
  const file = join(folder, 'quayside.yaml');
  await writeFile(
    file,
    `data: ${folder}\ncopies: 1\ndestinations: [{ name: primary, path: ${join(folder, 'primary')} }]\n`,
  );
  args = ['--config', file];
});
afterEach(async () => {
  vi.unstubAllEnvs();
  await rm(folder, { recursive: true });
});

it('takes the address of Redis from the environment', async () => {
  vi.stubEnv('QUAYSIDE_REDIS', 'redis://:s3cret@127.0.0.1:6390');
  expect((await readSettings(args)).redis).toEqual({ kind: 'url', url: 'redis://:s3cret@127.0.0.1:6390' });
});

it('takes the address from the command line when it is run alone', async () => {
  vi.stubEnv('QUAYSIDE_REDIS', undefined);
  expect((await readSettings([...args, '--redis', '/run/redis.sock'])).redis).toEqual({
    kind: 'socket',
    path: '/run/redis.sock',
  });
});

it('says what is missing where there is no address', async () => {
  vi.stubEnv('QUAYSIDE_REDIS', '');
  await expect(readSettings(args)).rejects.toMatchObject({ code: 'USAGE' });
});

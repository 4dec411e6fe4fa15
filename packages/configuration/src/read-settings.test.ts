import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { readSettings, type SettingsSources } from './read-settings.ts';

let folder: string;
let config: readonly string[];
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-settings-'));
  const file = join(folder, 'quayside.yaml');
  await writeFile(
    file,
    `data: ${folder}\ncopies: 1\ndestinations: [{ name: primary, path: ${join(folder, 'primary')} }]\n`,
  );
  config = ['--config', file];
});
afterEach(async () => rm(folder, { recursive: true }));

const inEnvironment = { QUAYSIDE_REDIS: 'redis://:s3cret@127.0.0.1:6390' };

interface Given {
  readonly argv?: readonly string[];
  readonly environment?: SettingsSources['environment'];
  readonly supervised?: string;
}

async function redisFrom({ argv = [], environment = {}, supervised }: Given): Promise<string> {
  const sources: SettingsSources = {
    argv: [...config, ...argv],
    environment,
    redisFromSupervisor: async () => supervised ?? null,
  };
  return (await readSettings(sources)).redis;
}

it('takes the address of Redis from the command line before the supervisor, and that before the environment', async () => {
  const all = { argv: ['--redis', '/run/own.sock'], supervised: '/run/redis.sock', environment: inEnvironment };
  expect(await redisFrom(all)).toBe('/run/own.sock');
  expect(await redisFrom({ ...all, argv: [] })).toBe('/run/redis.sock');
  expect(await redisFrom({ environment: inEnvironment })).toBe(inEnvironment.QUAYSIDE_REDIS);
});

it('gives the configuration of the file', async () => {
  const { configuration } = await readSettings({
    argv: config,
    environment: inEnvironment,
    redisFromSupervisor: async () => null,
  });
  expect(configuration.destinations.map(({ name }) => name)).toEqual(['primary']);
});

it('says what is missing where there is no address, or no file', async () => {
  await expect(redisFrom({})).rejects.toMatchObject({ code: 'USAGE' });
  await expect(redisFrom({ environment: { QUAYSIDE_REDIS: '' } })).rejects.toMatchObject({ code: 'USAGE' });
  config = [];
  await expect(redisFrom({ environment: inEnvironment })).rejects.toMatchObject({ code: 'USAGE' });
});

import { mkdir, readdir, readFile, rm, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { generationOf, inventedFile, newRoll } from './hash-lists.test-support.ts';
import { CHAIN_NAME } from './manifest.ts';
import type { NewFile } from './new-generation.ts';
import { writeGeneration } from './write-generation.ts';

const LATER = '2026-03-06T18:00:00.000Z';

describe('refuses', () => {
  it.each(['../a', '/a', 'a/', 'a\u{0}b', '\u{DC80}.mov', 'bell\u{7}'])(
    'the name %j, and leaves no trace',
    async (path) => {
      await using roll = await newRoll();
      const files = [await inventedFile('fine.mov'), { ...(await inventedFile('x')), path }];
      await expect(writeGeneration(roll.root, generationOf(files))).rejects.toMatchObject({
        code: 'MANIFEST_NAME',
        retry: 'never',
      });
      expect(await readdir(roll.root)).toEqual([]);
    },
  );

  const good = '0'.repeat(32);
  it.each<[string, Partial<NewFile>]>([
    ['no hash', { hashes: [] }],
    ['upper-case hex', { hashes: [{ algorithm: 'md5', value: 'A'.repeat(32), action: 'original' }] }],
    ['a short hash', { hashes: [{ algorithm: 'sha1', value: good, action: 'original' }] }],
    [
      'two hashes of one algorithm',
      { hashes: [1, 2].map(() => ({ algorithm: 'md5', value: good, action: 'original' }) as const) },
    ],
    ['a negative size', { sizeInBytes: -1 }],
    ['a name twice', { path: 'other.mov' }],
  ])('a file with %s', async (_, change) => {
    await using roll = await newRoll();
    const files = [await inventedFile('other.mov'), { ...(await inventedFile('a.mov')), ...change }];
    await expect(writeGeneration(roll.root, generationOf(files))).rejects.toMatchObject({ code: 'MANIFEST_CONTENT' });
    expect(await readdir(roll.root)).toEqual([]);
  });

  it('an empty set', async () => {
    await using roll = await newRoll();
    await expect(writeGeneration(roll.root, generationOf([]))).rejects.toMatchObject({ code: 'MANIFEST_CONTENT' });
  });

  it('to add to a damaged history, and leaves it as it is', async () => {
    await using roll = await newRoll();
    const { manifestPath } = await writeGeneration(roll.root, generationOf([await inventedFile('a.mov')]));
    await truncate(manifestPath, 100);
    const before = await readFile(join(roll.history, CHAIN_NAME));
    const next = generationOf([await inventedFile('b.mov')], { startedAt: LATER });
    await expect(writeGeneration(roll.root, next)).rejects.toMatchObject({ code: 'MANIFEST_DAMAGED', retry: 'never' });
    expect(await readFile(join(roll.history, CHAIN_NAME))).toEqual(before);
    expect(await readdir(roll.history)).toHaveLength(2);
  });

  it('to overwrite a file that has the name', async () => {
    await using roll = await newRoll();
    await mkdir(roll.history);
    const name = join(roll.history, '0001_wheel-1_2026-03-05_180000Z.mhl');
    await writeFile(name, 'torn');
    const generation = generationOf([await inventedFile('a.mov')]);
    await expect(writeGeneration(roll.root, generation)).rejects.toMatchObject({
      code: 'MANIFEST_TAKEN',
      retry: 'never',
    });
    expect(await readFile(name, 'utf8')).toBe('torn');
    expect(await readdir(roll.history)).toHaveLength(1);
  });

  it('to make the folder of a roll that is away', async () => {
    await using roll = await newRoll();
    await rm(roll.root, { recursive: true });
    const generation = generationOf([await inventedFile('a.mov')]);
    await expect(writeGeneration(roll.root, generation)).rejects.toMatchObject({
      code: 'MANIFEST_WRITE',
      retry: 'destination',
    });
  });
});

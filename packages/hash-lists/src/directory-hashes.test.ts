import { createHash } from 'node:crypto';
import { join } from 'node:path';
import type { HashAlgorithm } from '@quayside/shoot';
import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { directoryHashes } from './directory-hashes.ts';
import { digestOf, filesBelow, REELS } from './hash-lists.test-support.ts';

async function hashesOf(folder: string, algorithm: HashAlgorithm): ReturnType<typeof directoryHashes> {
  const files = await filesBelow(join(REELS, folder));
  const hashed = files.map(async ({ path, bytes }) => ({ path, digest: await digestOf(algorithm, bytes) }));
  return directoryHashes(await Promise.all(hashed), algorithm);
}

// Published: the "…Z" manifests of scenario 05 of ascmitc/mhl @5970ecb. The md5 content values: scenario 03.
// Recomputed from the specification's appendix G by the desk research: the md5 structure values, and the last five rows.
it.each<[HashAlgorithm, string, string, string, string]>([
  ['xxh64', 'A002R2EC', 'Clips', '4c226b42e27d7af3', '906faa843d591a9f'],
  ['xxh64', 'A002R2EC', '', '8d02114c32e28cbe', 'f557f8ca8e5a88ef'],
  ['xxh64', 'A003R2EC', 'Clips', 'f2afc6434255a53d', 'a25d5ca89c95f9e2'],
  ['xxh64', 'A003R2EC', '', '7a82373c131cf40a', '1131a950fcc55e4b'],
  ['xxh64', '', '', '92950bc8fda076ec', '2c2ce52605558158'],
  ['xxh64', '', 'A002R2EC', '8d02114c32e28cbe', 'f557f8ca8e5a88ef'],
  ['md5', 'A002R2EC', 'Clips', '202a2d71b56b080d9b089c1f4f29a4ba', '4a739024fd19d928e9dea6bb5c480200'],
  ['md5', 'A002R2EC', '', '6fae2da9bc6dca45486cb91bfea6db70', 'be1f2eaed208efbed061845a64cacdfa'],
  ['md5', '', '', 'b8ec1e5e979a9b7400f2841409607446', '67a8c8fbb6aa5b1b9dc18591e990a075'],
  ['xxh128', '', '', '7b9cb0646732be4043debe440a70e44c', 'ec884c7173de72d9db8c3314a7ff0a1a'],
  ['xxh3', '', '', '866d4faadfafc0b1', 'e8a9df4dc31cca6f'],
  ['sha1', '', '', 'd45499ce6c2ec7f8e9e30d4b3605694a7a84d91b', 'cde7df5aad3a1787bcc37a1ffb4b8562a5ecfd3f'],
  [
    'c4',
    '',
    '',
    'c449ejys7763wky9Jn8dESNqpVNtdj1dy4JMPs1BGHrmqoPbk5jNAA7CimtHKMQeHp8TkxBwqv1oLDvwuF5sAHZ5m2',
    'c465KVGtrhvEuiqi9tr8v6pNXJnjEWFJm4dqn4ddpmGhxCCzctBWyoUjZALtE9nqDycW9a3WqmCfMzX1Mi5QDDurkz',
  ],
])(
  'the %s of scenario folder "%s", in it "%s", is the published one',
  async (...[algorithm, root, inner, content, structure]) => {
    const hashes = await hashesOf(root, algorithm);
    expect(inner === '' ? hashes.root : hashes.folders.get(inner)).toEqual({ content, structure });
  },
);

// Scenario 04: the sidecar file was altered. Both content values are published; the structure is recomputed.
it('a changed file takes part with its new hash', async () => {
  const files = await filesBelow(join(REELS, 'A002R2EC'));
  const hashed = files.map(async ({ path, bytes }) => ({
    path,
    digest: path === 'Sidecar.txt' ? '70d2cf31aaa3eac4' : await digestOf('xxh64', bytes),
  }));
  const { root } = await directoryHashes(await Promise.all(hashed), 'xxh64');
  expect(root).toEqual({ content: '8e52e9c3d15e055c', structure: '32706d5f4b48f047' });
});

it('an empty folder has the hash of no bytes, and counts in its parent', async () => {
  const nothing = createHash('md5').update('').digest('hex');
  const file = { path: 'a.mov', digest: nothing };
  const withFolder = await directoryHashes([file], 'md5', ['empty/inner']);
  expect(withFolder.folders.get('empty/inner')).toEqual({ content: nothing, structure: nothing });
  expect(withFolder.root).not.toEqual((await directoryHashes([file], 'md5')).root);
});

it('the order of the files does not matter, and a new name changes the structure alone', async () => {
  const path = fc.array(fc.constantFrom('a', 'b', 'ä', '日', '😀', 'z.mov'), { minLength: 1, maxLength: 3 });
  const paths = fc.uniqueArray(
    path.map((parts) => `${parts.join('/')}.mov`),
    { minLength: 2, maxLength: 12 },
  );
  await fc.assert(
    fc.asyncProperty(paths, async (given) => {
      const files = given.map((name) => ({ path: name, digest: createHash('md5').update(name).digest('hex') }));
      const { root } = await directoryHashes(files, 'md5');
      expect((await directoryHashes(files.toReversed(), 'md5')).root).toEqual(root);
      const renamed = await directoryHashes(
        files.map((file, index) => (index === 0 ? { ...file, path: `${file.path}2` } : file)),
        'md5',
      );
      expect(renamed.root.content).toBe(root.content);
      expect(renamed.root.structure).not.toBe(root.structure);
    }),
    { numRuns: 50 },
  );
});

it.each([[['a.mov', 'a.mov']], [['a', 'a/b.mov']], [['a/b.mov', 'a']]])(
  'refuses the paths %j together',
  async (paths) => {
    const files = paths.map((path) => ({ path, digest: 'd41d8cd98f00b204e9800998ecf8427e' }));
    await expect(directoryHashes(files, 'md5')).rejects.toMatchObject({ code: 'MANIFEST_CONTENT' });
  },
);

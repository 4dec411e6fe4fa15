import { readFile, writeFile } from 'node:fs/promises';
import { expect, it } from 'vitest';
import { generationOf, inventedFile, newRoll } from './hash-lists.test-support.ts';
import { recallManifest, rememberManifest } from './known-manifests.ts';
import type { Manifest } from './manifest.ts';
import { readHistory } from './read-history.ts';
import { readManifest } from './read-manifest.ts';
import { writeGeneration } from './write-generation.ts';

it('what is remembered of a written generation is what its bytes say, directory hashes and all', async () => {
  await using roll = await newRoll();
  const files = await Promise.all(['a.mov', 'CLIPS/1/b.mov', 'CLIPS/c <&> "d".mov'].map((path) => inventedFile(path)));
  const creator = { hostname: ' studio ', tool: 'quayside', toolVersion: '1', comment: 'bad \u{1}\u{DC80} bytes' };
  const { c4, manifestPath } = await writeGeneration(roll.root, generationOf(files, { creator }));
  const remembered = recallManifest(c4);
  expect(remembered?.folders.length).toBe(2);
  expect(readManifest(await readFile(manifestPath))).toEqual({ state: 'read', manifest: remembered, refused: [] });
});

it('bytes that were altered since are found all the same', async () => {
  await using roll = await newRoll();
  const { manifestPath } = await writeGeneration(roll.root, generationOf([await inventedFile('a.mov')]));
  expect((await readHistory(roll.root)).faults).toEqual([]);
  await writeFile(manifestPath, (await readFile(manifestPath, 'utf8')).replace('a.mov', 'b.mov'));
  const { faults, files } = await readHistory(roll.root);
  expect(faults.map(({ code }) => code)).toEqual(['MANIFEST_ALTERED']);
  expect([...files.keys()]).toEqual([]);
});

it('a few are kept, those that were wanted last, and none that is huge', async () => {
  await using roll = await newRoll();
  const { c4 } = await writeGeneration(roll.root, generationOf([await inventedFile('a.mov')]));
  const manifest = recallManifest(c4) ?? expect.fail();
  for (let number = 0; number < 8; number += 1) {
    rememberManifest(`c4 ${number}`, manifest);
    expect(recallManifest('c4 0')).toBe(manifest);
  }
  rememberManifest('c4 8', manifest);
  expect(recallManifest('c4 1')).toBeNull();
  for (const kept of [0, 2, 7, 8]) expect(recallManifest(`c4 ${kept}`)).toBe(manifest);
  const [file] = manifest.files;
  const huge: Manifest = { ...manifest, files: Array.from({ length: 50_001 }, () => file ?? expect.fail()) };
  rememberManifest('huge', huge);
  expect(recallManifest('huge')).toBeNull();
});

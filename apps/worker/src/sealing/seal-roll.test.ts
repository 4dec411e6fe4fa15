// The linter opens tests outside their tsconfig and would not know Node there.
/// <reference types="node" />
import { execFileSync } from 'node:child_process';
import { readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readHistory } from '@quayside/hash-lists';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { readRollRecord } from '../records/roll-record.ts';
import { SealingScene } from './sealing-scene.test-support.ts';

let scene: SealingScene;
beforeEach(async () => {
  scene = await SealingScene.open();
});
afterEach(() => scene[Symbol.asyncDispose]());

it('a copy that fails after it was sealed is recorded as failed, and its replacement as verified in the next generation', async () => {
  await scene.copy();
  await scene.readBack();
  expect(await scene.seal()).toBe(1);

  await writeFile(join(scene.rollRoot, 'CLIPS/a.mov'), 'first tako');
  expect(await scene.readBack()).toMatchObject([{ state: 'failed' }, { state: 'verified' }]);
  await scene.copy();
  expect(await scene.readBack()).toMatchObject([
    { state: 'verified', storedPath: 'CLIPS/a.mov' },
    { state: 'verified' },
  ]);
  expect(await scene.seal()).toBe(3);

  const { generations, files: recorded, faults } = await readHistory(scene.rollRoot);
  expect(faults).toEqual([]);
  // GNU md5sum says what was found.
  const aside = join(scene.destination.root, '.quayside/set-aside', scene.roll.id, 'CLIPS/a.mov');
  const [found] = execFileSync('md5sum', [aside], { encoding: 'utf8' }).split(' ');
  expect(generations[1]?.manifest).toMatchObject({
    process: 'in-place',
    files: [{ path: 'CLIPS/a.mov', hashes: [{ algorithm: 'md5', value: found, action: 'failed' }] }],
  });
  const [right] = execFileSync('md5sum', [join(scene.drive, 'CLIPS/a.mov')], { encoding: 'utf8' }).split(' ');
  expect(generations[2]?.manifest).toMatchObject({
    process: 'transfer',
    files: [{ path: 'CLIPS/a.mov', hashes: [{ algorithm: 'md5', value: right, action: 'verified' }] }],
  });
  expect(recorded.get('CLIPS/a.mov')).toMatchObject({ failed: false });
  expect(await scene.seal()).toBe(3);
});

it('a copy that is made anew counts also when the clock was ahead while the bad one was found', async () => {
  await scene.copy();
  await scene.readBack();
  await scene.seal();
  await writeFile(join(scene.rollRoot, 'CLIPS/a.mov'), 'first tako');
  await scene.readBack();
  const ledger = join(scene.destination.root, '.quayside/ledger', `${scene.roll.id}.jsonl`);
  const text = await readFile(ledger, 'utf8');
  await writeFile(ledger, text.replace(/("kind":"failed".*"at":")\d{4}/, '$12099'));
  await scene.seal();
  await scene.copy();
  expect(await scene.readBack()).toMatchObject([{ state: 'verified' }, { state: 'verified' }]);
  await scene.seal();
  const record = await readRollRecord(scene.destination.root, { shootId: scene.roll.shootId, rollId: scene.roll.id });
  expect(record).toMatchObject({ files: [{ path: 'CLIPS/a.mov' }, { path: 'CLIPS/b.mov' }] });
});

it('a copy that fails before anything was sealed leaves no trace in the history, which never knew it', async () => {
  await scene.copy();
  await writeFile(join(scene.rollRoot, 'CLIPS/a.mov'), 'first tako');
  expect(await scene.readBack()).toMatchObject([{ state: 'failed' }, { state: 'verified' }]);
  expect(await scene.seal()).toBe(1);
  await scene.copy();
  await scene.readBack();
  expect(await scene.seal()).toBe(2);
  const { files: recorded } = await readHistory(scene.rollRoot);
  expect(recorded.get('CLIPS/a.mov')).toMatchObject({ failed: false, lastAction: 'original', lastGeneration: 2 });
});

it('seals what is proven and only that, once, and more when more is proven', async () => {
  await scene.copy();
  await scene.readBack({ paths: ['CLIPS/a.mov'] });
  expect(await scene.seal()).toBe(1);
  const { rollRoot } = scene;
  expect([...(await readHistory(rollRoot)).files.keys()]).toEqual(['CLIPS/a.mov']);
  // The same content is not written twice.
  expect(await scene.seal()).toBe(1);
  await scene.readBack();
  expect(await scene.seal()).toBe(2);
  const { files: recorded, generations } = await readHistory(rollRoot);
  expect([...recorded.keys()].toSorted()).toEqual(['CLIPS/a.mov', 'CLIPS/b.mov']);
  expect(generations[1]?.manifest?.files.map(({ path }) => path)).toEqual(['CLIPS/b.mov']);
  const record = await readRollRecord(scene.destination.root, { shootId: scene.roll.shootId, rollId: scene.roll.id });
  expect(record).toMatchObject({ manifest: { generation: 2 }, visit: 1, files: [{ path: 'CLIPS/a.mov' }, {}] });
});

it('seals nothing where nothing is proven: written is not verified', async () => {
  await scene.copy();
  await expect(scene.seal()).rejects.toMatchObject({ code: 'NOTHING_PROVEN', retry: 'never' });
  expect((await readHistory(scene.rollRoot)).generations).toEqual([]);
});

it('seals no file that is on the drive with another size or time than the one that was copied', async () => {
  await scene.copy();
  await scene.readBack();
  await scene.seal(
    scene.files.map((file) => (file.path === 'CLIPS/a.mov' ? { ...file, modifiedMs: file.modifiedMs + 1000 } : file)),
  );
  expect([...(await readHistory(scene.rollRoot)).files.keys()]).toEqual(['CLIPS/b.mov']);
});

it('records everything proven anew when the history is damaged', async () => {
  await scene.copy();
  await scene.readBack();
  await scene.seal();
  const history = join(scene.rollRoot, 'ascmhl');
  await rm(join(history, 'ascmhl_chain.xml'));
  expect(await scene.seal()).toBe(2);
  const { generations, faults } = await readHistory(scene.rollRoot);
  expect(faults).toEqual([]);
  expect(generations.at(-1)?.manifest?.files.map(({ path }) => path)).toEqual(['CLIPS/a.mov', 'CLIPS/b.mov']);
});

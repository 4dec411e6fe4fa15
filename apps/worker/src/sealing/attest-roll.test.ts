// The linter opens tests outside their tsconfig and would not know Node there.
/// <reference types="node" />
import { execFileSync } from 'node:child_process';
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readHistory } from '@quayside/hash-lists';
import { readLedger } from '@quayside/media-files';
import type { Instant } from '@quayside/shoot';
import type { ReadBackOutcome } from '@quayside/step-sdk/built-in';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { readRollRecord } from '../records/roll-record.ts';
import { attestRoll } from './attest-roll.ts';
import { recallLedger } from './recall-ledger.ts';
import { PATHS, SealingScene } from './sealing-scene.test-support.ts';

let scene: SealingScene;
beforeEach(async () => {
  scene = await SealingScene.open();
  await scene.copy();
  await scene.readBack();
  await scene.seal();
});
afterEach(() => scene[Symbol.asyncDispose]());

const attest = (since: Instant): ReturnType<typeof attestRoll> =>
  attestRoll({ roll: scene.roll, destination: scene.destination, since });

async function reread(): Promise<{ since: Instant; outcomes: readonly ReadBackOutcome[] }> {
  const since = new Date().toISOString();
  return { since, outcomes: await scene.readBack({ notSince: since }) };
}

async function actions(): Promise<readonly (readonly string[])[]> {
  const { generations } = await readHistory(scene.rollRoot);
  return generations.map(({ manifest }) =>
    (manifest?.files ?? []).map(({ path, hashes }) => `${path} ${hashes[0]?.action}`),
  );
}

it('each reading again is a generation of its own that verifies every file, and the record says since when all has been read', async () => {
  const before = await readRollRecord(scene.destination.root, { shootId: scene.roll.shootId, rollId: scene.roll.id });
  const first = await reread();
  expect(first.outcomes.map(({ state }) => state)).toEqual(['verified', 'verified']);
  const attested = await attest(first.since);
  expect(attested.generation).toBe(2);
  expect(attested.readBackAt >= first.since).toBe(true);
  // Asked for again, as after a crash, it writes nothing.
  expect(await attest(first.since)).toEqual(attested);
  const second = await reread();
  expect((await attest(second.since)).generation).toBe(3);
  const verified = PATHS.map((path) => `${path} verified`);
  expect(await actions()).toEqual([PATHS.map((path) => `${path} original`), verified, verified]);
  const record = await readRollRecord(scene.destination.root, { shootId: scene.roll.shootId, rollId: scene.roll.id });
  if (before === null || before === 'damaged') throw new Error('there was a record');
  expect(record).toMatchObject({ manifest: { generation: 3 }, files: before.files, sealedAt: before.sealedAt });
  expect((before.readBackAt ?? '') < second.since).toBe(true);
});

it('a file that has been read since is not read a second time when a reading goes on after a break', async () => {
  const since = new Date().toISOString();
  await scene.readBack({ paths: ['CLIPS/a.mov'], notSince: since });
  const known = (await readLedger(scene.destination.root, scene.roll.id)).files.get('CLIPS/a.mov')?.verifiedAt;
  await scene.readBack({ notSince: since });
  const { files: after } = await readLedger(scene.destination.root, scene.roll.id);
  expect(after.get('CLIPS/a.mov')?.verifiedAt).toBe(known);
  expect((after.get('CLIPS/b.mov')?.verifiedAt ?? '') >= since).toBe(true);
});

it('a file found bad is recorded as failed with what was found, and the others as verified', async () => {
  await writeFile(join(scene.rollRoot, 'CLIPS/a.mov'), 'first tako');
  const { since, outcomes } = await reread();
  expect(outcomes).toMatchObject([{ state: 'failed', failure: { code: 'CHECKSUM_MISMATCH' } }, { state: 'verified' }]);
  expect(outcomes[0]?.state === 'failed' && outcomes[0].failure.sentence).toContain('no longer what was proven');
  expect((await attest(since)).generation).toBe(3);
  expect((await actions()).slice(1)).toEqual([['CLIPS/a.mov failed'], ['CLIPS/b.mov verified']]);
  // GNU md5sum says what was found.
  const aside = join(scene.destination.root, '.quayside/set-aside', scene.roll.id, 'CLIPS/a.mov');
  const [found] = execFileSync('md5sum', [aside], { encoding: 'utf8' }).split(' ');
  const { generations } = await readHistory(scene.rollRoot);
  expect(generations[1]?.manifest?.files[0]?.hashes[0]?.value).toBe(found);
});

it('what the ledger has lost is known again from the record, as far as the manifests agree, and then read', async () => {
  await rm(join(scene.destination.root, '.quayside/ledger'), { recursive: true, force: true });
  expect((await readLedger(scene.destination.root, scene.roll.id)).files.size).toBe(0);
  expect((await reread()).outcomes).toMatchObject([{ state: 'failed' }, { state: 'failed' }]);
  await recallLedger(scene.roll, scene.destination, PATHS);
  const { since, outcomes } = await reread();
  expect(outcomes.map(({ state }) => state)).toEqual(['verified', 'verified']);
  expect((await attest(since)).generation).toBe(2);
  // Nothing of what it knows by itself is replaced.
  const known = (await readLedger(scene.destination.root, scene.roll.id)).files;
  await recallLedger(scene.roll, scene.destination, PATHS);
  expect((await readLedger(scene.destination.root, scene.roll.id)).files).toEqual(known);
});

it('without its record a roll cannot be attested', async () => {
  await rm(join(scene.destination.root, scene.roll.shootId, 'records'), { recursive: true });
  const { since } = await reread();
  await expect(attest(since)).rejects.toMatchObject({ code: 'RECORD_UNREADABLE' });
});

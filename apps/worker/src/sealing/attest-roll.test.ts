// The linter opens tests outside their tsconfig and would not know Node there.
/// <reference types="node" />
import { execFileSync } from 'node:child_process';
import { mkdir, mkdtemp, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readHistory } from '@quayside/hash-lists';
import { listVolume, type Mover, prepareDestination, readLedger, startMover } from '@quayside/media-files';
import { advance } from '@quayside/pipeline';
import { deviceNumber, type FileEntry, type Instant, type Roll, rollFolder } from '@quayside/shoot';
import type { Destination, ReadBackOutcome } from '@quayside/step-sdk/built-in';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { readRollRecord } from '../records/roll-record.ts';
import { attestRoll } from './attest-roll.ts';
import { recallLedger } from './recall-ledger.ts';
import { sealRoll } from './seal-roll.ts';

const NEVER = { signal: new AbortController().signal, onBytes: () => undefined };
const PATHS = ['CLIPS/a.mov', 'CLIPS/b.mov'];

let folder: string;
let mover: Mover;
let destination: Destination;
let files: readonly FileEntry[];
let roll: Roll;

/** A roll of two files that is copied, read back and sealed at one destination. */
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-attest-'));
  await mkdir(join(folder, 'drive/CLIPS'), { recursive: true });
  await writeFile(join(folder, 'drive/CLIPS/a.mov'), 'first take');
  await writeFile(join(folder, 'drive/CLIPS/b.mov'), 'second take');
  await mkdir(join(folder, 'primary'));
  const { id } = await prepareDestination(join(folder, 'primary'), 'primary');
  destination = { name: 'primary', root: join(folder, 'primary'), id };
  files = (await listVolume(join(folder, 'drive'), { litter: [] })).files;
  const device = deviceNumber((await stat(folder)).dev, process.platform);
  const mount = { path: join(folder, 'drive'), mountId: '1', device };
  roll = openRoll(mount);
  mover = startMover();
  await copy();
  await readBack();
  await sealRoll({ roll, files, destination, now: new Date().toISOString() });
});
afterEach(async () => {
  await mover.close();
  await rm(folder, { recursive: true, force: true });
});

function openRoll(mount: { path: string; mountId: string; device: string }): Roll {
  const identity = { key: 'v1', basis: 'uuid', uuid: '1A2B-3C4D', serial: null, label: 'WHEEL' } as const;
  const about = { id: 'wheel-20261125-abc123', shootId: '2026-11-25', recorder: 'wheel', role: 'camera' } as const;
  const parcels = [{ firstPath: 'CLIPS/a.mov', fileCount: 2, sizeInBytes: 21 }];
  const volume = { ...identity, fileSystem: 'exfat', sizeInBytes: 1000 };
  const found = { fingerprint: 'f1', litterCount: 0, facts: 'read', findings: [] } as const;
  const listed = { ...about, ...found, volume, mount, parcels, destinations: { primary: null }, findings: [] };
  return advance(null, { type: 'listed', roll: listed }, new Date().toISOString());
}

const place = (): { id: string; folder: string } => ({ id: roll.id, folder: rollFolder(roll) });
const rollRoot = (): string => join(destination.root, rollFolder(roll));

async function copy(): Promise<void> {
  const mount = roll.mount ?? { path: '', mountId: '', device: '' };
  await mover.copy({ mount, roll: place(), files, destinations: [destination], algorithms: ['md5'] }, NEVER);
}

async function readBack(notSince?: Instant): Promise<readonly ReadBackOutcome[]> {
  const request = { roll: place(), paths: PATHS, destination };
  return mover.readBack(notSince === undefined ? request : { ...request, notSince }, NEVER);
}

async function reread(): Promise<{ since: Instant; outcomes: readonly ReadBackOutcome[] }> {
  const since = new Date().toISOString();
  return { since, outcomes: await readBack(since) };
}

async function actions(): Promise<readonly (readonly string[])[]> {
  const { generations } = await readHistory(rollRoot());
  return generations.map(({ manifest }) =>
    (manifest?.files ?? []).map(({ path, hashes }) => `${path} ${hashes[0]?.action}`),
  );
}

it('each reading again is a generation of its own that verifies every file, and the record says since when all has been read', async () => {
  const before = await readRollRecord(destination.root, { shootId: roll.shootId, rollId: roll.id });
  const first = await reread();
  expect(first.outcomes.map(({ state }) => state)).toEqual(['verified', 'verified']);
  const attested = await attestRoll({ roll, destination, since: first.since });
  expect(attested.generation).toBe(2);
  expect(attested.readBackAt >= first.since).toBe(true);
  // Asked for again, as after a crash, it writes nothing.
  expect(await attestRoll({ roll, destination, since: first.since })).toEqual(attested);
  const second = await reread();
  expect((await attestRoll({ roll, destination, since: second.since })).generation).toBe(3);
  const verified = PATHS.map((path) => `${path} verified`);
  expect(await actions()).toEqual([PATHS.map((path) => `${path} original`), verified, verified]);
  const record = await readRollRecord(destination.root, { shootId: roll.shootId, rollId: roll.id });
  if (before === null || before === 'damaged') throw new Error('there was a record');
  expect(record).toMatchObject({ manifest: { generation: 3 }, files: before.files, sealedAt: before.sealedAt });
  expect((before.readBackAt ?? '') < second.since).toBe(true);
});

it('a file that has been read since is not read a second time when a reading goes on after a break', async () => {
  const since = new Date().toISOString();
  await mover.readBack({ roll: place(), paths: ['CLIPS/a.mov'], destination, notSince: since }, NEVER);
  const known = (await readLedger(destination.root, roll.id)).files.get('CLIPS/a.mov')?.verifiedAt;
  await readBack(since);
  const { files: after } = await readLedger(destination.root, roll.id);
  expect(after.get('CLIPS/a.mov')?.verifiedAt).toBe(known);
  expect((after.get('CLIPS/b.mov')?.verifiedAt ?? '') >= since).toBe(true);
});

it('a file found bad is recorded as failed with what was found, and the others as verified', async () => {
  await writeFile(join(rollRoot(), 'CLIPS/a.mov'), 'first tako');
  const { since, outcomes } = await reread();
  expect(outcomes).toMatchObject([{ state: 'failed', failure: { code: 'CHECKSUM_MISMATCH' } }, { state: 'verified' }]);
  expect(outcomes[0]?.state === 'failed' && outcomes[0].failure.sentence).toContain('no longer what was proven');
  expect((await attestRoll({ roll, destination, since })).generation).toBe(3);
  expect((await actions()).slice(1)).toEqual([['CLIPS/a.mov failed'], ['CLIPS/b.mov verified']]);
  // GNU md5sum says what was found.
  const aside = join(destination.root, '.quayside/set-aside', roll.id, 'CLIPS/a.mov');
  const [found] = execFileSync('md5sum', [aside], { encoding: 'utf8' }).split(' ');
  const { generations } = await readHistory(rollRoot());
  expect(generations[1]?.manifest?.files[0]?.hashes[0]?.value).toBe(found);
});

it('what the ledger has lost is known again from the record, as far as the manifests agree, and then read', async () => {
  await rm(join(destination.root, '.quayside/ledger'), { recursive: true, force: true });
  expect((await readLedger(destination.root, roll.id)).files.size).toBe(0);
  expect((await reread()).outcomes).toMatchObject([{ state: 'failed' }, { state: 'failed' }]);
  await recallLedger(roll, destination, PATHS);
  const { since, outcomes } = await reread();
  expect(outcomes.map(({ state }) => state)).toEqual(['verified', 'verified']);
  expect((await attestRoll({ roll, destination, since })).generation).toBe(2);
  // Nothing of what it knows by itself is replaced.
  const known = (await readLedger(destination.root, roll.id)).files;
  await recallLedger(roll, destination, PATHS);
  expect((await readLedger(destination.root, roll.id)).files).toEqual(known);
});

it('without its record a roll cannot be attested', async () => {
  await rm(join(destination.root, roll.shootId, 'records'), { recursive: true });
  const { since } = await reread();
  await expect(attestRoll({ roll, destination, since })).rejects.toMatchObject({ code: 'RECORD_UNREADABLE' });
});

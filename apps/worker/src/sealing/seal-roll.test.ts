// The linter opens tests outside their tsconfig and would not know Node there.
/// <reference types="node" />
import { execFileSync } from 'node:child_process';
import { mkdir, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readHistory } from '@quayside/hash-lists';
import { listVolume, type Mover, prepareDestination, startMover } from '@quayside/media-files';
import { advance } from '@quayside/pipeline';
import { deviceNumber, type FileEntry, type Roll, rollFolder } from '@quayside/shoot';
import type { CopyOutcome, Destination, ReadBackOutcome } from '@quayside/step-sdk/built-in';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { readRollRecord } from '../records/roll-record.ts';
import { sealRoll } from './seal-roll.ts';

const NEVER = { signal: new AbortController().signal, onBytes: () => undefined };
const DIGEST = 'md5';

let folder: string;
let mover: Mover;
let destination: Destination;
let files: readonly FileEntry[];
let roll: Roll;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-seal-'));
  await mkdir(join(folder, 'drive/CLIPS'), { recursive: true });
  await writeFile(join(folder, 'drive/CLIPS/a.mov'), 'first take');
  await writeFile(join(folder, 'drive/CLIPS/b.mov'), 'second take');
  await mkdir(join(folder, 'primary'));
  const { id } = await prepareDestination(join(folder, 'primary'), 'primary');
  destination = { name: 'primary', root: join(folder, 'primary'), id };
  files = (await listVolume(join(folder, 'drive'), { litter: [] })).files;
  const device = deviceNumber((await stat(folder)).dev, process.platform);
  roll = openRoll({ path: join(folder, 'drive'), mountId: '1', device });
  mover = startMover();
});
afterEach(async () => {
  await mover.close();
  await rm(folder, { recursive: true, force: true });
});

function openRoll(mount: { path: string; mountId: string; device: string }): Roll {
  return advance(
    null,
    {
      type: 'listed',
      roll: {
        id: 'wheel-20261125-abc123',
        shootId: '2026-11-25',
        recorder: 'wheel',
        role: 'camera',
        volume: {
          key: 'v1',
          basis: 'uuid',
          uuid: '1A2B-3C4D',
          serial: null,
          label: 'WHEEL',
          fileSystem: 'exfat',
          sizeInBytes: 1000,
        },
        mount,
        fingerprint: 'f1',
        litterCount: 0,
        facts: 'read',
        parcels: [{ firstPath: 'CLIPS/a.mov', fileCount: 2, sizeInBytes: 21 }],
        destinations: { primary: null },
        findings: [],
      },
    },
    new Date().toISOString(),
  );
}

const place = (): { id: string; folder: string } => ({ id: roll.id, folder: rollFolder(roll) });
const stored = (path: string): string => join(destination.root, rollFolder(roll), path);

async function copy(): Promise<readonly CopyOutcome[]> {
  const mount = roll.mount ?? { path: '', mountId: '', device: '' };
  return mover.copy({ mount, roll: place(), files, destinations: [destination], algorithms: [DIGEST] }, NEVER);
}

async function readBack(): Promise<readonly ReadBackOutcome[]> {
  return mover.readBack({ roll: place(), paths: files.map(({ path }) => path), destination }, NEVER);
}

async function seal(): Promise<number> {
  return (await sealRoll({ roll, files, destination, now: new Date().toISOString() })).generation;
}

it('a copy that fails after it was sealed is recorded as failed, and its replacement as verified in the next generation', async () => {
  await copy();
  await readBack();
  expect(await seal()).toBe(1);

  await writeFile(stored('CLIPS/a.mov'), 'first tako');
  expect(await readBack()).toMatchObject([{ state: 'failed' }, { state: 'verified' }]);
  await copy();
  expect(await readBack()).toMatchObject([{ state: 'verified', storedPath: 'CLIPS/a.mov' }, { state: 'verified' }]);
  expect(await seal()).toBe(3);

  const { generations, files: recorded, faults } = await readHistory(join(destination.root, rollFolder(roll)));
  expect(faults).toEqual([]);
  // GNU md5sum says what was found.
  const aside = join(destination.root, '.quayside/set-aside', roll.id, 'CLIPS/a.mov');
  const [found] = execFileSync('md5sum', [aside], { encoding: 'utf8' }).split(' ');
  expect(generations[1]?.manifest).toMatchObject({
    process: 'in-place',
    files: [{ path: 'CLIPS/a.mov', hashes: [{ algorithm: DIGEST, value: found, action: 'failed' }] }],
  });
  const [right] = execFileSync('md5sum', [join(folder, 'drive/CLIPS/a.mov')], { encoding: 'utf8' }).split(' ');
  expect(generations[2]?.manifest).toMatchObject({
    process: 'transfer',
    files: [{ path: 'CLIPS/a.mov', hashes: [{ algorithm: DIGEST, value: right, action: 'verified' }] }],
  });
  expect(recorded.get('CLIPS/a.mov')).toMatchObject({ failed: false });
  expect(await seal()).toBe(3);
});

it('a copy that is made anew counts also when the clock was ahead while the bad one was found', async () => {
  await copy();
  await readBack();
  await seal();
  await writeFile(stored('CLIPS/a.mov'), 'first tako');
  await readBack();
  const ledger = join(destination.root, '.quayside/ledger', `${roll.id}.jsonl`);
  const text = await readFile(ledger, 'utf8');
  await writeFile(ledger, text.replace(/("kind":"failed".*"at":")\d{4}/, '$12099'));
  await seal();
  await copy();
  expect(await readBack()).toMatchObject([{ state: 'verified' }, { state: 'verified' }]);
  await seal();
  const record = await readRollRecord(destination.root, { shootId: roll.shootId, rollId: roll.id });
  expect(record).toMatchObject({ files: [{ path: 'CLIPS/a.mov' }, { path: 'CLIPS/b.mov' }] });
});

it('a copy that fails before anything was sealed leaves no trace in the history, which never knew it', async () => {
  await copy();
  await writeFile(stored('CLIPS/a.mov'), 'first tako');
  expect(await readBack()).toMatchObject([{ state: 'failed' }, { state: 'verified' }]);
  expect(await seal()).toBe(1);
  await copy();
  await readBack();
  expect(await seal()).toBe(2);
  const { files: recorded } = await readHistory(join(destination.root, rollFolder(roll)));
  expect(recorded.get('CLIPS/a.mov')).toMatchObject({ failed: false, lastAction: 'original', lastGeneration: 2 });
});

it('seals what is proven and only that, once, and more when more is proven', async () => {
  await copy();
  await mover.readBack({ roll: place(), paths: ['CLIPS/a.mov'], destination }, NEVER);
  expect(await seal()).toBe(1);
  const rollRoot = join(destination.root, rollFolder(roll));
  expect([...(await readHistory(rollRoot)).files.keys()]).toEqual(['CLIPS/a.mov']);
  // The same content is not written twice.
  expect(await seal()).toBe(1);
  await readBack();
  expect(await seal()).toBe(2);
  const { files: recorded, generations } = await readHistory(rollRoot);
  expect([...recorded.keys()].toSorted()).toEqual(['CLIPS/a.mov', 'CLIPS/b.mov']);
  expect(generations[1]?.manifest?.files.map(({ path }) => path)).toEqual(['CLIPS/b.mov']);
  const record = await readRollRecord(destination.root, { shootId: roll.shootId, rollId: roll.id });
  expect(record).toMatchObject({ manifest: { generation: 2 }, visit: 1, files: [{ path: 'CLIPS/a.mov' }, {}] });
});

it('seals nothing where nothing is proven: written is not verified', async () => {
  await copy();
  await expect(seal()).rejects.toMatchObject({ code: 'NOTHING_PROVEN', retry: 'never' });
  expect((await readHistory(join(destination.root, rollFolder(roll)))).generations).toEqual([]);
});

it('seals no file that is on the drive with another size or time than the one that was copied', async () => {
  await copy();
  await readBack();
  files = files.map((file) => (file.path === 'CLIPS/a.mov' ? { ...file, modifiedMs: file.modifiedMs + 1000 } : file));
  await seal();
  expect([...(await readHistory(join(destination.root, rollFolder(roll)))).files.keys()]).toEqual(['CLIPS/b.mov']);
});

it('records everything proven anew when the history is damaged', async () => {
  await copy();
  await readBack();
  await seal();
  const history = join(destination.root, rollFolder(roll), 'ascmhl');
  await rm(join(history, 'ascmhl_chain.xml'));
  expect(await seal()).toBe(2);
  const { generations, faults } = await readHistory(join(destination.root, rollFolder(roll)));
  expect(faults).toEqual([]);
  expect(generations.at(-1)?.manifest?.files.map(({ path }) => path)).toEqual(['CLIPS/a.mov', 'CLIPS/b.mov']);
});

import { createHash } from 'node:crypto';
import { appendFile, mkdir, open, readdir, readFile, rename, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readHistory, writeGeneration } from '@quayside/hash-lists';
import { openRollLedger, prepareDestination, readLedger } from '@quayside/media-files';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { type Ended, type Home, makeHome, quayside } from '../quayside.test-support.ts';

let home: Home;
let roll: string;
const FILES = {
  'CLIPS/a.mov': 'first clip '.repeat(20_000),
  'CLIPS/b.mov': 'second clip '.repeat(30_000),
  'notes ü.txt': 'said',
  empty: '',
};

/** A roll as it lies at a destination. Its hashes are OpenSSL's MD5 (RFC 1321), by way of node:crypto, not ours. */
beforeEach(async () => {
  home = await makeHome();
  await prepareDestination(join(home.folder, 'primary'), 'primary');
  roll = join(home.folder, 'primary', '2026-03-01', 'wheel', 'wheel-1');
  await mkdir(join(roll, 'CLIPS'), { recursive: true });
  for (const [path, content] of Object.entries(FILES)) await writeFile(join(roll, path), content);
  await writeGeneration(roll, {
    startedAt: '2026-03-01T10:00:00.000Z',
    process: 'transfer',
    creator: { hostname: 'studio', tool: 'Quayside', toolVersion: '0.1.0' },
    ignore: [],
    complete: true,
    files: Object.entries(FILES).map(([path, content]) => ({
      path,
      sizeInBytes: Buffer.byteLength(content),
      modifiedMs: 1_772_359_200_000,
      hashes: [{ algorithm: 'md5', value: createHash('md5').update(content).digest('hex'), action: 'original' }],
    })),
  });
});
afterEach(async () => home[Symbol.asyncDispose]());

async function verify(...options: readonly string[]): Promise<Ended> {
  return quayside(['verify', roll, ...options]);
}

interface Report {
  readonly counts: object;
  readonly recording: { readonly setAside: readonly string[] };
  readonly files: readonly { readonly verdict: string; readonly mismatches?: readonly { readonly what: string }[] }[];
}

async function verifyJson(...options: readonly string[]): Promise<{ code: number | null; report: Report }> {
  const { code, stdout } = await verify('--json', ...options);
  const report: Report = JSON.parse(stdout);
  return { code, report };
}

async function flipByte(path: string, position: number): Promise<void> {
  await using file = await open(path, 'r+');
  const byte = Buffer.alloc(1);
  await file.read(byte, 0, 1, position);
  await file.write(Buffer.of((byte[0] ?? 0) ^ 1), 0, 1, position);
}

it('finds a good roll as recorded, exits with 0, and records that as a further generation', async () => {
  const ended = await verify();
  expect(ended).toMatchObject({ code: 0, stderr: '' });
  expect(ended.stdout).toContain('4 files as recorded');
  expect(ended.stdout).toContain('Recorded as generation 2.');
  const { generations, files, faults } = await readHistory(roll);
  expect(faults).toEqual([]);
  expect(generations[1]?.manifest).toMatchObject({ process: 'in-place' });
  expect([...files.values()].map(({ lastAction }) => lastAction)).toEqual([
    'verified',
    'verified',
    'verified',
    'verified',
  ]);
});

it('needs neither a service nor a configuration', async () => {
  expect(
    (await quayside(['verify', roll, '--no-record'], { QUAYSIDE_CONFIG: '/nonexistent.yaml', PATH: '/nonexistent' }))
      .code,
  ).toBe(0);
});

it('finds one flipped byte, names the file and both hashes, exits with 1, records the damage and sets the copy aside', async () => {
  await flipByte(join(roll, 'CLIPS/b.mov'), 123_456);
  expect((await verify('--no-record')).stdout).toMatch(/^DAMAGED {5}CLIPS\/b\.mov: md5 is /m);
  const { code, report } = await verifyJson();
  const aside = join(home.folder, 'primary', '.quayside', 'set-aside', 'wheel-1', 'CLIPS/b.mov');
  const now = createHash('md5')
    .update(await readFile(aside))
    .digest('hex');
  const then = createHash('md5').update(FILES['CLIPS/b.mov']).digest('hex');
  expect(code).toBe(1);
  expect(report.counts).toMatchObject({ verified: 3, failed: 1, missing: 0, new: 0 });
  expect(report.files.find(({ verdict }) => verdict === 'failed')).toEqual({
    path: 'CLIPS/b.mov',
    verdict: 'failed',
    mismatches: [{ what: 'md5', expected: then, found: now }],
  });
  expect((await readHistory(roll)).files.get('CLIPS/b.mov')).toMatchObject({ failed: true });
  expect(report.recording.setAside).toEqual([aside]);
  expect((await verify('--no-record')).stdout).toMatch(/^MISSING {5}CLIPS\/b\.mov$/m);
});

it('finds a missing file, and exits with 1', async () => {
  await rm(join(roll, 'CLIPS/a.mov'));
  const ended = await verify('--no-record');
  expect(ended.code).toBe(1);
  expect(ended.stdout).toMatch(/^MISSING {5}CLIPS\/a\.mov$/m);
});

it('finds a file that was cut short, by its size and its hash', async () => {
  await writeFile(join(roll, 'CLIPS/a.mov'), 'first');
  const { code, report } = await verifyJson('--no-record');
  expect(code).toBe(1);
  expect(report.files[0]?.mismatches?.map(({ what }) => what)).toEqual(['size', 'md5']);
});

it('takes a damaged copy out of what the service holds for proven', async () => {
  const root = join(home.folder, 'primary');
  await openRollLedger(root, 'wheel-1', { rollId: 'wheel-1' });
  const known = { path: 'CLIPS/b.mov', storedPath: 'CLIPS/b.mov', at: '2026-03-01T10:00:00.000Z' };
  const written = { kind: 'written', ...known, sizeInBytes: 1, modifiedMs: 1, digests: { md5: '0'.repeat(32) } };
  await appendFile(join(root, '.quayside', 'ledger', 'wheel-1.jsonl'), `${JSON.stringify(written)}\n`);
  await flipByte(join(roll, 'CLIPS/b.mov'), 5);
  await verify();
  expect((await readLedger(root, 'wheel-1')).files.get('CLIPS/b.mov')?.state).toBe('failed');
});

it('finds an extra file, exits with 3, and from then on has a record of it', async () => {
  await writeFile(join(roll, 'CLIPS/c.mov'), 'late');
  const ended = await verify();
  expect(ended.code).toBe(3);
  expect(ended.stdout).toMatch(/^NO RECORD {3}CLIPS\/c\.mov$/m);
  expect((await verify('--no-record')).code).toBe(0);
  await appendFile(join(roll, 'CLIPS/c.mov'), 'r');
  expect((await verify('--no-record')).code).toBe(1);
});

it('writes nothing with --no-record', async () => {
  const before = await readdir(join(roll, 'ascmhl'));
  expect((await verify('--no-record')).code).toBe(0);
  expect(await readdir(join(roll, 'ascmhl'))).toEqual(before);
});

it('writes nothing to a folder outside every destination, which may be a drive', async () => {
  const elsewhere = join(home.folder, 'drives', 'card');
  await rename(roll, elsewhere);
  roll = elsewhere;
  const before = await readdir(join(roll, 'ascmhl'));
  const ended = await verify();
  expect(ended.code).toBe(0);
  expect(ended.stdout).toContain('Not recorded: the folder does not lie at a destination');
  expect(await readdir(join(roll, 'ascmhl'))).toEqual(before);
});

it('does not follow a link in the place of a file', async () => {
  await rename(join(roll, 'CLIPS/a.mov'), join(home.folder, 'a.mov'));
  await symlink(join(home.folder, 'a.mov'), join(roll, 'CLIPS/a.mov'));
  const ended = await verify('--no-record');
  expect(ended.code).toBe(1);
  expect(ended.stdout).toMatch(/^MISSING {5}CLIPS\/a\.mov$/m);
  expect(ended.stdout).toMatch(/^NOT A FILE {2}CLIPS\/a\.mov: a link/m);
});

it('finds a manifest that was changed after it was written', async () => {
  const [manifest = ''] = (await readdir(join(roll, 'ascmhl'))).filter((name) => name.endsWith('.mhl'));
  await flipByte(join(roll, 'ascmhl', manifest), 300);
  const ended = await verify();
  expect(ended.code).toBe(1);
  expect(ended.stdout + ended.stderr).toContain(manifest);
});

it.each([
  ['a folder without manifests', 'drives'],
  ['a folder that is not there', 'nowhere'],
  ['a file', 'quayside.yaml'],
])('refuses %s in one sentence', async (_name, path) => {
  const ended = await quayside(['verify', join(home.folder, path)]);
  expect(ended).toMatchObject({ code: 1, stdout: '' });
  expect(ended.stderr).toMatch(/^[^\n]+<destination>\/<shoot>\/<recorder>\/<roll>\.\n$/);
});

it('shows names that a terminal would obey as escapes', async () => {
  await writeFile(join(roll, 'x\u001b[2J\n.mov'), 'odd');
  const ended = await verify('--no-record');
  expect(ended.stdout).not.toContain('\u001b');
  expect(ended.stdout).toContain(String.raw`NO RECORD   x\u{1b}[2J\n.mov`);
});

it('either a folder, or a shoot or a destination, is named', async () => {
  for (const words of [[], [roll, '--shoot', 'class'], ['--shoot', 'class', '--destination', 'primary']]) {
    const { code, stderr } = await quayside(['verify', ...words]);
    expect(code).toBe(2);
    expect(stderr).toMatch(
      /^Name either a folder|^Option '--shoot <id>' cannot be used with option '--destination <name>'/,
    );
  }
});

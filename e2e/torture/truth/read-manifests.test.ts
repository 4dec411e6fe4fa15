import { execFileSync } from 'node:child_process';
import { appendFile, cp, mkdir, mkdtemp, readdir, rm, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { readManifests } from './read-manifests.ts';

// Published with the standard by the ASC: its chain holds C4 IDs that its own tool has made (see the fixtures' README).
const PUBLISHED = fileURLToPath(
  new URL('../../../packages/hash-lists/fixtures/scenario/Reels/A003R2EC', import.meta.url),
);
let folder = '';

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-manifests-'));
  await cp(PUBLISHED, folder, { recursive: true });
});
afterEach(() => rm(folder, { recursive: true, force: true }));

it('finds no fault in a history that the standard’s own tool has written', async () => {
  expect((await readManifests(folder)).faults).toEqual([]);
});

it.each([
  ['was altered by a byte', (path: string) => appendFile(path, ' '), 'is not what the chain says'],
  ['is torn', (path: string) => truncate(path, 300), 'is not whole'],
  ['is gone', (path: string) => rm(path), 'is in the chain but not there'],
])('says so when a manifest %s', async (_, damage, fault) => {
  const [name = ''] = (await readdir(join(folder, 'ascmhl'))).filter((one) => one.endsWith('.mhl'));
  await damage(join(folder, 'ascmhl', name));
  expect((await readManifests(folder)).faults.join()).toContain(`${name} ${fault}`);
});

it('takes the later record of a file over the earlier, and a failed one for none', async () => {
  await rm(join(folder, 'ascmhl'), { recursive: true });
  await mkdir(join(folder, 'ascmhl'));
  const names = ['0001_x.mhl', '0002_x.mhl'];
  const hashes = [
    hash('Clips/a &amp; b.mov', 'verified', '00ff') + hash('c.mov', 'original', '11'),
    hash('c.mov', 'failed', '22'),
  ];
  for (const [index, name] of names.entries())
    await writeFile(join(folder, 'ascmhl', name), `<hashlist>${hashes[index]}</hashlist>\n`);
  const entries = names.map(
    (name) => `<hashlist><path>${name}</path><c4>${c4(join(folder, 'ascmhl', name))}</c4></hashlist>`,
  );
  await writeFile(
    join(folder, 'ascmhl', 'ascmhl_chain.xml'),
    `<ascmhldirectory>${entries.join('')}</ascmhldirectory>\n`,
  );
  const { files, faults } = await readManifests(folder);
  expect(faults).toEqual([]);
  expect(files.get('Clips/a & b.mov')).toEqual({ sizeInBytes: 5, xxh128: '00ff' });
  expect(files.get('c.mov')).toBeNull();
});

function hash(path: string, action: string, digest: string): string {
  return `<hash><path size="5">${path}</path><xxh128 action="${action}" hashdate="2026-03-01T10:00:00Z">${digest}</xxh128></hash>`;
}

/** The digest by sha512sum (GNU coreutils), written in base 58, 88 digits (SMPTE ST 2114:2017). */
function c4(path: string): string {
  const hex = execFileSync('sha512sum', [path], { encoding: 'utf8' }).split(' ')[0] ?? '';
  const digits = '123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz';
  let text = '';
  for (let rest = BigInt(`0x${hex}`); rest > 0n; rest /= 58n) text = `${digits[Number(rest % 58n)]}${text}`;
  return `c4${text.padStart(88, '1')}`;
}

import { execFileSync } from 'node:child_process';
import { open, readdir, readFile, rename, rm, stat, truncate, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hashFile } from '../hashing/hash-file.ts';
import { readLedger } from '../ledger/read-ledger.ts';
import {
  calmControls,
  copyHere,
  destinationAt,
  hasTool,
  mountImage,
  readBackHere,
  ROLL,
  temporaryFolder,
  whyNoMounts,
  writeTree,
} from '../media-files.test-support.ts';

import { setCopyAside } from '../set-aside/set-copy-aside.ts';

const MIB = 1024 * 1024;
const skipped = whyNoMounts === null ? '' : ` (skipped: ${whyNoMounts})`;
const needsMap = whyNoMounts ?? (hasTool('filefrag') ? null : 'there is no filefrag');

async function flipByte(path: string, position: number): Promise<void> {
  await using file = await open(path, 'r+');
  const byte = Buffer.alloc(1);
  await file.read(byte, 0, 1, position);
  await file.write(Buffer.of((byte[0] ?? 0) ^ 1), 0, 1, position);
  await file.sync();
}

/** Where a file's first block lies on its device, in bytes, as e2fsprogs' filefrag says. */
function physicalStart(path: string): number {
  const line = execFileSync('filefrag', ['-v', '-b1024', path], { encoding: 'utf8' });
  return Number(/^\s*0:\s+0\.\.\s*\d+:\s+(\d+)\.\./m.exec(line)?.[1]) * 1024;
}

describe('reading copies back', () => {
  it('verifies what is the same, and says so in the ledger', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 5 * MIB + 17, 'b.xml': 900, 'empty.txt': 0 });
    const destination = await destinationAt(join(folder.path, 'one'));
    await copyHere({ source, destinations: [destination], algorithms: ['xxh64', 'sha1'] });
    const controls = calmControls();
    const read = await readBackHere(destination, ['a.mov', 'b.xml', 'empty.txt'], controls);
    expect(read.map(({ state }) => state)).toEqual(['verified', 'verified', 'verified']);
    expect(controls.moved).toBe(5 * MIB + 917);
    const { files } = await readLedger(destination.root, ROLL.id);
    expect([...files.values()].map(({ state }) => state)).toEqual(['verified', 'verified', 'verified']);
  });

  it('one flipped byte in a copy is found, and named with both digests', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'DCIM/a.mov': 9 * MIB, 'b.mov': 10 });
    const destination = await destinationAt(join(folder.path, 'one'));
    const [copied] = await copyHere({ source, destinations: [destination] });
    const stored = join(destination.root, ROLL.folder, 'DCIM/a.mov');
    const { mtime } = await stat(stored);
    await flipByte(stored, 7 * MIB + 3);
    await utimes(stored, mtime, mtime);
    const [bad, good] = await readBackHere(destination, ['DCIM/a.mov', 'b.mov']);
    expect(good?.state).toBe('verified');
    const expected = copied?.state === 'written' ? copied.digests.xxh128 : '';
    const aside = join(destination.root, '.quayside/set-aside', ROLL.id, 'DCIM/a.mov');
    const { digests: found } = await hashFile(aside, ['xxh128'], { pastCache: false });
    expect(bad).toMatchObject({ state: 'failed', failure: { code: 'CHECKSUM_MISMATCH', retry: 'copy' } });
    const sentence = bad?.state === 'failed' ? bad.failure.sentence : '';
    for (const word of ['DCIM/a.mov', 'primary', expected, found.xxh128, aside, 'Do not record over'])
      expect(sentence).toContain(word);
    expect((await readLedger(destination.root, ROLL.id)).files.get('DCIM/a.mov')).toMatchObject({
      state: 'failed',
      failure: { code: 'CHECKSUM_MISMATCH' },
    });

    // It is out of the way and kept, and the copy that replaces it has its name.
    await expect(stat(stored)).rejects.toThrow('ENOENT');
    const bytes = await readFile(aside);
    const [again] = await copyHere({ source, destinations: [destination] });
    expect(again).toMatchObject({ state: 'written', storedPath: 'DCIM/a.mov', already: false });
    expect((await readBackHere(destination, ['DCIM/a.mov']))[0]).toMatchObject({
      state: 'verified',
      storedPath: 'DCIM/a.mov',
    });
    expect(await readFile(aside)).toEqual(bytes);
    const { damage } = (await readLedger(destination.root, ROLL.id)).files.get('DCIM/a.mov') ?? {};
    expect(damage?.found).toMatchObject({ sizeInBytes: 9 * MIB, digests: { xxh128: found.xxh128 } });
  });

  it('copies that fail one after the other are all kept', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'DCIM/a.mov': 10 });
    const destination = await destinationAt(join(folder.path, 'one'));
    for (let round = 1; round <= 3; round += 1) {
      await copyHere({ source, destinations: [destination] });
      await writeFile(join(destination.root, ROLL.folder, 'DCIM/a.mov'), `bad ${round}`);
      expect(await readBackHere(destination, ['DCIM/a.mov'])).toMatchObject([
        { failure: { code: 'CHECKSUM_MISMATCH', sentence: expect.stringContaining('expected 10 bytes, found 5') } },
      ]);
    }
    const aside = join(destination.root, '.quayside/set-aside', ROLL.id, 'DCIM');
    expect((await readdir(aside)).toSorted()).toEqual(['a.mov', 'a__2.mov', 'a__3.mov']);
    expect(await readFile(join(aside, 'a__2.mov'), 'utf8')).toBe('bad 2');
  });

  it('a file that took the place of the one that was read is left alone', async () => {
    await using folder = await temporaryFolder();
    await writeTree(folder.path, { 'roll/a.mov': 'bad' });
    const bad = { root: folder.path, rollId: ROLL.id, rollFolder: 'roll', storedPath: 'a.mov' };
    const asRead = await stat(join(folder.path, 'roll/a.mov'));
    await writeFile(join(folder.path, 'roll/new.mov'), 'good');
    await rename(join(folder.path, 'roll/new.mov'), join(folder.path, 'roll/a.mov'));
    await expect(setCopyAside({ ...bad, asRead })).rejects.toThrow('not the file that was read');
    expect(await readFile(join(folder.path, 'roll/a.mov'), 'utf8')).toBe('good');
  });

  // Promise 3. The page cache holds the right bytes, the medium wrong ones: only who reads the medium can tell.
  it.skipIf(needsMap !== null)(
    `reads the medium, not the page cache${needsMap === null ? '' : ` (skipped: ${needsMap})`}`,
    async () => {
      await using image = await mountImage('ext4', 64);
      await using folder = await temporaryFolder();
      const source = join(folder.path, 'drive');
      await writeTree(source, { 'large.mov': 6 * MIB, 'small.xml': 5000 });
      const destination = await destinationAt(image.path);
      await copyHere({ source, destinations: [destination] });
      for (const name of ['large.mov', 'small.xml']) {
        const stored = join(destination.root, ROLL.folder, name);
        await flipBehindTheCache(stored, () => flipByte(image.image, physicalStart(stored) + 1000));
      }
      const read = await readBackHere(destination, ['large.mov', 'small.xml']);
      expect(read).toMatchObject([
        { failure: { code: 'CHECKSUM_MISMATCH' } },
        { failure: { code: 'CHECKSUM_MISMATCH' } },
      ]);
    },
  );

  const isLinux = process.platform === 'linux';
  it.skipIf(!isLinux)(
    `says that the bytes may be cached where they can only come from memory${isLinux ? '' : ' (skipped: needs tmpfs)'}`,
    async () => {
      await using memory = await temporaryFolder('/dev/shm');
      await using folder = await temporaryFolder();
      const source = join(folder.path, 'drive');
      await writeTree(source, { 'a.mov': 300_000, 'b.xml': 300 });
      const destination = await destinationAt(join(memory.path, 'one'));
      await copyHere({ source, destinations: [destination] });
      expect(await readBackHere(destination, ['a.mov', 'b.xml'])).toMatchObject([
        { state: 'verified', method: 'cached' },
        { state: 'verified', method: 'cached' },
      ]);
    },
  );

  it('done again, does not read what is verified and untouched; but does when anybody has touched it', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 400_000 });
    const destination = await destinationAt(join(folder.path, 'one'));
    await copyHere({ source, destinations: [destination] });
    const [first] = await readBackHere(destination, ['a.mov']);
    const linesAfter = async (): Promise<number> =>
      (await readFile(join(destination.root, '.quayside/ledger', `${ROLL.id}.jsonl`), 'utf8')).split('\n').length;
    const lines = await linesAfter();
    expect(await readBackHere(destination, ['a.mov'])).toEqual([first]);
    expect(await linesAfter()).toBe(lines);
    const stored = join(destination.root, ROLL.folder, 'a.mov');
    const { mtime } = await stat(stored);
    await flipByte(stored, 5);
    await utimes(stored, mtime, mtime);
    expect(await readBackHere(destination, ['a.mov'])).toMatchObject([{ failure: { code: 'CHECKSUM_MISMATCH' } }]);
  });

  it('a copy of another size, one that is gone, and one never made are told apart', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'short.mov': 100, 'gone.mov': 100, 'moved.mov': 100 });
    const destination = await destinationAt(join(folder.path, 'one'));
    await copyHere({ source, destinations: [destination] });
    const stored = join(destination.root, ROLL.folder);
    await truncate(join(stored, 'short.mov'), 99);
    await rm(join(stored, 'gone.mov'));
    await rename(join(stored, 'moved.mov'), join(stored, 'elsewhere.mov'));
    const read = await readBackHere(destination, ['short.mov', 'gone.mov', 'moved.mov', 'never.mov']);
    expect(read.map((outcome) => (outcome.state === 'failed' ? outcome.failure.code : outcome.state))).toEqual([
      'CHECKSUM_MISMATCH',
      'COPY_MISSING',
      'COPY_MISSING',
      'COPY_MISSING',
    ]);
  });

  it('a destination that is away says nothing about its copies', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 100 });
    const destination = await destinationAt(join(folder.path, 'one'));
    await copyHere({ source, destinations: [destination] });
    await rename(destination.root, join(folder.path, 'unplugged'));
    expect(await readBackHere(destination, ['a.mov'])).toMatchObject([
      { failure: { code: 'DESTINATION_MISSING', retry: 'destination' } },
    ]);
    await rename(join(folder.path, 'unplugged'), destination.root);
    expect(await readBackHere(destination, ['a.mov'])).toMatchObject([{ state: 'verified' }]);
  });
});

describe('hashing one file', () => {
  it.skipIf(whyNoMounts)(`reads past the cache on ext4 and says so${skipped}`, async () => {
    await using image = await mountImage('ext4', 32);
    await writeTree(image.path, { a: 5 * MIB });
    const path = join(image.path, 'a');
    const direct = await hashFile(path, ['md5'], { pastCache: true });
    const cached = await hashFile(path, ['md5'], { pastCache: false });
    expect(direct).toEqual({ ...cached, method: 'direct' });
    expect(cached).toMatchObject({ method: 'cached', sizeInBytes: 5 * MIB });
  });
});

/** Changes a byte on the medium while memory still holds the file as it was; tries again when memory was needed for something else. */
async function flipBehindTheCache(stored: string, flip: () => Promise<void>): Promise<void> {
  const right = await readFile(stored);
  for (let tries = 0; tries < 20; tries += 1) {
    await readFile(stored);
    await flip();
    if ((await readFile(stored)).equals(right)) return;
    // It came from the medium. Flipped back, it can be read into memory as it was.
    await flip();
    execFileSync('sh', ['-c', 'echo 1 > /proc/sys/vm/drop_caches']);
  }
  expect.unreachable('the file never stayed in memory');
}

import { execFileSync } from 'node:child_process';
import { mkdir, symlink, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { mountImage, temporaryFolder, whyNoMounts, writeTree } from '../media-files.test-support.ts';
import { nameFromBytes } from '../names/name-bytes.ts';
import { fingerprintOf } from './fingerprint.ts';
import { listVolume } from './list-volume.ts';

const LITTER = ['._*', '.DS_Store', '.Trashes', '.Trash-*', 'System Volume Information', 'Thumbs.db', 'lost+found'];

describe('listing a volume', () => {
  it('gives the regular files in code-unit order, with size and time as the system knows them', async () => {
    await using folder = await temporaryFolder();
    await writeTree(folder.path, { 'b/z.mov': 'zz', 'B.mov': 'B', 'b.mov': '', 'ä.mov': 'ä', 'b/.hidden': 'h' });
    const { files } = await listVolume(folder.path, { litter: [] });
    expect(files.map(({ path }) => path)).toEqual(['B.mov', 'b.mov', 'b/.hidden', 'b/z.mov', 'ä.mov']);
    // GNU stat is the independent witness for size and time.
    const [size, time] = execFileSync('stat', ['-c', '%s %.6Y', join(folder.path, 'b/z.mov')], {
      encoding: 'utf8',
    }).split(' ');
    expect(files[3]?.sizeInBytes).toBe(Number(size));
    expect(files[3]?.modifiedMs).toBeCloseTo(Number(time) * 1000, 2);
  });

  it('holds names in any script, with newlines, 255 bytes, both Unicode forms, and bytes that are no UTF-8', async () => {
    await using folder = await temporaryFolder();
    const names = [
      '陶芸 ろくろ.mov',
      'قالب.mov',
      'two\nlines',
      'é'.normalize('NFC'),
      'é'.normalize('NFD'),
      'x'.repeat(255),
      ' ',
      '%0A',
    ];
    for (const name of names) await writeFile(join(folder.path, name), name);
    const odd = Buffer.from([0x61, 0xff, 0xfe]);
    await writeFile(Buffer.concat([Buffer.from(`${folder.path}/`), odd]), 'odd');
    const { files } = await listVolume(folder.path, { litter: [] });
    expect(files.map(({ path }) => path)).toEqual([...names, nameFromBytes(odd)].toSorted());
  });

  it('tells links, pipes, sockets and devices, and follows none', async () => {
    await using outside = await temporaryFolder();
    await writeTree(outside.path, { 'secret.mov': 'secret' });
    await using folder = await temporaryFolder();
    await symlink(outside.path, join(folder.path, 'link'));
    execFileSync('mkfifo', [join(folder.path, 'pipe')]);
    const server = createServer().listen(join(folder.path, 'socket'));
    await new Promise((resolve) => server.once('listening', resolve));
    if (process.getuid?.() === 0) execFileSync('mknod', [join(folder.path, 'device'), 'c', '1', '3']);
    const { files, specials } = await listVolume(folder.path, { litter: [] });
    server.close();
    expect(files).toEqual([]);
    const expected = [
      { path: 'link', kind: 'link' },
      { path: 'pipe', kind: 'pipe' },
      { path: 'socket', kind: 'socket' },
    ];
    expect(specials).toEqual(process.getuid?.() === 0 ? [{ path: 'device', kind: 'device' }, ...expected] : expected);
  });

  it('leaves litter out, does not look into its folders, and counts what it left out', async () => {
    await using folder = await temporaryFolder();
    await writeTree(folder.path, {
      'clip.mov': 'clip',
      '._clip.mov': 'x',
      'a/._b': 'x',
      '.Trashes/501/old.mov': 'x',
      '.Trash-1000/files/old.mov': 'x',
      'System Volume Information/x': 'x',
      'a/Thumbs.db': 'x',
      'my.DS_Store.mov': 'not litter',
    });
    const { files, litterCount } = await listVolume(folder.path, { litter: LITTER });
    expect(files.map(({ path }) => path)).toEqual(['clip.mov', 'my.DS_Store.mov']);
    expect(litterCount).toBe(6);
  });

  it('what a check of the file system has recovered is footage, and an empty folder for it is litter', async () => {
    await using folder = await temporaryFolder();
    await writeTree(folder.path, { 'clip.mov': 'clip' });
    await mkdir(join(folder.path, 'lost+found'));
    expect(await listVolume(folder.path, { litter: LITTER })).toMatchObject({ files: [{}], litterCount: 1 });
    await writeTree(folder.path, { 'lost+found/#12': 'recovered', 'lost+found/#13/._a': 'x' });
    const { files, litterCount } = await listVolume(folder.path, { litter: LITTER });
    expect(files.map(({ path }) => path)).toEqual(['clip.mov', 'lost+found/#12']);
    expect(litterCount).toBe(1);
  });

  it('a root that cannot be read is an error that says so', async () => {
    await using folder = await temporaryFolder();
    await expect(listVolume(join(folder.path, 'absent'), { litter: [] })).rejects.toMatchObject({
      code: 'VOLUME_UNREADABLE',
      retry: 'source',
    });
  });

  it('stops when the signal aborts', async () => {
    await using folder = await temporaryFolder();
    await expect(
      listVolume(folder.path, { litter: [], signal: AbortSignal.abort(new Error('enough')) }),
    ).rejects.toThrow('enough');
  });

  it.skipIf(whyNoMounts)(
    `does not wander into another file system mounted below, and tells that the folder cannot be seen${whyNoMounts === null ? '' : ` (skipped: ${whyNoMounts})`}`,
    async () => {
      await using image = await mountImage('ext4', 16);
      await mkdir(join(image.path, 'inner'));
      await using other = await mountImage('ext4', 16);
      await writeTree(other.path, { 'theirs.mov': 'theirs' });
      await other.mountAt(join(image.path, 'inner'));
      const { files, unreadable } = await listVolume(image.path, { litter: LITTER });
      expect(files).toEqual([]);
      expect(unreadable).toEqual([{ path: 'inner', why: 'another file system is mounted there' }]);
      execFileSync('umount', [join(image.path, 'inner')]);
    },
  );
});

describe('the fingerprint of a listing', () => {
  const file = { path: 'a.mov', sizeInBytes: 1, modifiedMs: 1.5 };
  it('is the same for the same files, and another for any change of path, size or time', () => {
    const print = fingerprintOf({ files: [file] });
    expect(print).toMatch(/^[0-9a-f]{32}$/);
    expect(fingerprintOf({ files: [{ ...file }] })).toBe(print);
    for (const change of [{ path: 'b.mov' }, { sizeInBytes: 2 }, { modifiedMs: 1.25 }]) {
      expect(fingerprintOf({ files: [{ ...file, ...change }] })).not.toBe(print);
    }
  });
});

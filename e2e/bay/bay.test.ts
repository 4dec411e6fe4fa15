import { execFile, execFileSync, spawnSync } from 'node:child_process';
import { mkdtemp, open, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Drive, type FileSystem, makeDrive } from '../drives/make-drive.ts';
import { mountDrive, unmountDrive } from '../drives/mount-drive.ts';
import { BayDrive, type BayOrder } from './bay-drive.ts';
import { canUseBay } from './can-use-bay.ts';
import { dropCaches, flipBit } from './flip-bit.ts';
import { whereBytesLie } from './where-bytes-lie.ts';

const run = promisify(execFile);
const ability = await canUseBay();
const MIB = 2 ** 20;
let folder = '';
let count = 0;

// What is on the drive is told by md5sum and dd (GNU coreutils), with direct I/O where the medium itself is asked.
describe.skipIf(!ability.ok)(`the virtual bay${ability.ok ? '' : ` (skipped: ${ability.reason})`}`, () => {
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'quayside bay-'));
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it.each(['ext4', 'exfat'] as const)(
    'shows what was recorded on %s, and nothing is left when it is out',
    async (fileSystem) => {
      if (fileSystem === 'exfat' && !ability.exfat) return;
      const { drive, digest } = await recorded(fileSystem);
      const slot = await insert(drive);
      expect(md5Of(join(slot.path, 'clip'))).toBe(digest);
      expect(
        execFileSync('losetup', ['--noheadings', '--output', 'DIO', slot.device], { encoding: 'utf8' }).trim(),
      ).toBe('1');
      await slot.eject();
      expect(await leftOvers(slot)).toEqual([]);
    },
  );

  it('answers every read with EIO while it is told to, and is well afterwards', async () => {
    const { drive, digest } = await recorded('ext4');
    await using slot = await insert(drive);
    await slot.switches.failReads(true);
    expect(readDirectly(join(slot.path, 'clip'))).toContain('Input/output error');
    await slot.switches.failReads(false);
    expect(md5Of(join(slot.path, 'clip'))).toBe(digest);
  });

  it('answers reads of one region with EIO, and all others well', async () => {
    const { drive, digest } = await recorded('ext4');
    await using slot = await insert(drive, { manner: 'has a bad region' });
    const clip = join(slot.path, 'clip');
    const last = (await whereBytesLie(clip)).at(-1);
    const from = last?.position ?? 0;
    await slot.switches.breakRegion({ from, to: from + 4096 });
    expect(readDirectly(clip)).toContain('Input/output error');
    expect(readDirectly(clip, 'count=1')).not.toContain('error');
    await slot.switches.breakRegion(null);
    expect(md5Of(clip)).toBe(digest);
  });

  it('gives no more bytes in a second than it is allowed to', async () => {
    const { drive } = await recorded('ext4');
    await using slot = await insert(drive);
    await slot.switches.slowDown(4 * MIB);
    const begun = performance.now();
    readDirectly(join(slot.path, 'clip'));
    // 8 MiB at 4 MiB/s; the lower bound alone says that there is a limit, and no machine can be too slow for it.
    expect(performance.now() - begun).toBeGreaterThan(1500);
  });

  it('loses what was not flushed when its power is cut, and keeps what was', async () => {
    const { drive } = await recorded('ext4');
    const slot = await insert(drive, { readOnly: false, manner: 'keeps writes until a flush' });
    await run('dd', ['if=/dev/urandom', `of=${join(slot.path, 'kept')}`, 'bs=1M', 'count=2', 'conv=fsync']);
    const kept = md5Of(join(slot.path, 'kept'));
    await run('sync', [slot.path]);
    // Past the page cache, so it has left the kernel: only the drive's own cache has it.
    await run('dd', ['if=/dev/urandom', `of=${join(slot.path, 'lost')}`, 'bs=1M', 'count=2', 'oflag=direct']);
    await slot.pull();
    await slot.untilOut();
    expect(await leftOvers(slot)).toEqual([]);
    await using back = await mountDrive(drive, join(folder, 'after the cut'));
    expect(md5Of(join(back.path, 'kept'))).toBe(kept);
    expect(md5Of(join(back.path, 'lost'))).not.toBe(kept);
    expect((await stat(join(back.path, 'lost')).catch(() => ({ size: 0 }))).size).toBe(0);
  });

  it('keeps everything when it is taken out in order', async () => {
    const { drive } = await recorded('ext4');
    const slot = await insert(drive, { readOnly: false, manner: 'keeps writes until a flush' });
    await writeFile(join(slot.path, 'note'), 'written without a sync');
    await slot.eject();
    await using back = await mountDrive(drive, join(folder, 'after the eject'));
    expect(await readFile(join(back.path, 'note'), 'utf8')).toBe('written without a sync');
  });

  it('fails writes at the sync that should make them last', async () => {
    const { drive } = await recorded('ext4');
    await using slot = await insert(drive, { readOnly: false, manner: 'keeps writes until a flush' });
    await slot.switches.failWrites(true);
    const tried = spawnSync(
      'dd',
      ['if=/dev/urandom', `of=${join(slot.path, 'new')}`, 'bs=64K', 'count=1', 'conv=fsync'],
      { encoding: 'utf8' },
    );
    expect(tried.stderr).toContain('Input/output error');
    await slot.switches.failWrites(false);
  });

  it('flips one bit of a file below the file system', async () => {
    const { drive } = await recorded('ext4');
    await using slot = await insert(drive, { readOnly: false, manner: 'keeps writes until a flush' });
    const clip = join(slot.path, 'clip');
    await run('cp', [clip, join(folder, 'before')]);
    const { mtimeMs, ctimeMs } = await stat(clip);
    await flipBit(clip, slot.device, { at: 5 * MIB + 123 });
    // cmp counts from 1.
    const { stdout } = spawnSync('cmp', ['-l', join(folder, 'before'), clip], { encoding: 'utf8' });
    expect(stdout.trim().split('\n')).toEqual([expect.stringMatching(new RegExp(`^\\s*${5 * MIB + 124}\\s`))]);
    expect(await stat(clip)).toMatchObject({ mtimeMs, ctimeMs });
  });

  it('can be pulled while a file is open, and put in again at another place', async () => {
    const { drive, digest } = await recorded('ext4');
    const slot = await insert(drive);
    const held = await open(join(slot.path, 'clip'));
    await slot.pull();
    expect(await readdir(slot.path)).toEqual([]);
    await expect(held.read(Buffer.alloc(4096), 0, 4096, 4 * MIB)).rejects.toMatchObject({ code: 'EIO' });
    await held.close();
    await slot.untilOut();
    expect(await leftOvers(slot)).toEqual([]);
    await using again = await insert(drive);
    expect(md5Of(join(again.path, 'clip'))).toBe(digest);
  });
});

async function recorded(fileSystem: FileSystem): Promise<{ readonly drive: Drive; readonly digest: string }> {
  count += 1;
  const image = join(folder, `drive ${count}`);
  const drive = await makeDrive({ image, fileSystem, label: 'WHEEL', sizeInBytes: 32 * MIB });
  const mounted = await mountDrive(drive, join(folder, `recording ${count}`));
  const clip = join(mounted.path, 'clip');
  await run('dd', ['if=/dev/urandom', `of=${clip}`, 'bs=1M', 'count=8']);
  const digest = md5Of(clip);
  await unmountDrive(mounted);
  return { drive, digest };
}

async function insert(drive: Drive, wish: Partial<BayOrder> = {}): Promise<BayDrive> {
  count += 1;
  const places = { path: join(folder, `slot ${count}`), folder: join(folder, `workings ${count}`) };
  return BayDrive.insert({ drive, readOnly: true, manner: 'plain', ...places, ...wish });
}

function md5Of(path: string): string {
  return spawnSync('md5sum', [path], { encoding: 'utf8' }).stdout.split(' ')[0] ?? '';
}

function readDirectly(path: string, ...words: readonly string[]): string {
  return spawnSync('dd', [`if=${path}`, 'of=/dev/null', 'bs=1M', 'iflag=direct', ...words], { encoding: 'utf8' })
    .stderr;
}

async function leftOvers(slot: BayDrive): Promise<readonly string[]> {
  await dropCaches();
  const mounts = (await readFile('/proc/self/mountinfo', 'utf8')).replaceAll('\\040', ' ').split('\n');
  const loops = execFileSync('losetup', ['--list', '--noheadings', '--output', 'BACK-FILE'], {
    encoding: 'utf8',
  }).split('\n');
  const processes = execFileSync('ps', ['-eo', 'args'], { encoding: 'utf8' })
    .split('\n')
    .filter((line) => /^\S*nbd/.test(line));
  const workings = slot.path.replace(/slot (\d+)$/, (_, number) => `workings ${Number(number)}`);
  return [...mounts, ...loops, ...processes].filter((line) => line.includes(slot.path) || line.includes(workings));
}

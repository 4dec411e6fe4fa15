import { execFile } from 'node:child_process';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';
import {
  calmControls,
  copyHere,
  destinationAt,
  mountImage,
  mountOf,
  readBackHere,
  temporaryFolder,
  whyNoMounts,
  writeTree,
} from '../media-files.test-support.ts';
import { driveWithBadCable, driveWithBadStretch, whyNoFaults } from '../faulty-drive.test-support.ts';
import { listVolume } from '../listing/list-volume.ts';
import { startMover } from '../mover/start-mover.ts';
import { readWithPatience } from './read-with-patience.ts';
import { deviceText, throwIfSourceGone } from './source-presence.ts';

const run = promisify(execFile);
const skipped = whyNoMounts === null ? '' : ` (skipped: ${whyNoMounts})`;
const MIB = 1024 * 1024;

// Promise 8.
describe('a drive that goes away', () => {
  it.skipIf(whyNoMounts)(
    `is an interruption: what was copied stays, and the rest is copied when it is back, under another path${skipped}`,
    async () => {
      await using folder = await temporaryFolder();
      await using image = await mountImage('ext4', 64);
      await writeTree(image.path, { 'a.mov': 9 * MIB, 'b.mov': 9 * MIB, 'c.mov': 9 * MIB, 'd.mov': 9 * MIB });
      const destinations = [
        await destinationAt(join(folder.path, 'one'), 'one'),
        await destinationAt(join(folder.path, 'two'), 'two'),
      ];
      let isPulled = false;
      const onBytes = (): void => {
        if (!isPulled) void image.unmount(['-l']);
        isPulled = true;
      };
      const copying = copyHere({ source: image.path, destinations, controls: { ...calmControls(), onBytes } });
      await expect(copying).rejects.toMatchObject({ code: 'SOURCE_GONE', retry: 'source' });

      const elsewhere = join(folder.path, 'other-port');
      await mkdir(elsewhere);
      await image.mountAt(elsewhere);
      const outcomes = await copyHere({ source: elsewhere, destinations });
      expect(outcomes.every(({ state }) => state === 'written')).toBe(true);
      expect(outcomes.some((outcome) => outcome.state === 'written' && outcome.already)).toBe(true);
      for (const destination of destinations) {
        const read = await readBackHere(destination, ['a.mov', 'b.mov', 'c.mov', 'd.mov']);
        expect(read.map(({ state }) => state)).toEqual(['verified', 'verified', 'verified', 'verified']);
      }
    },
  );

  it('another file system at its path is not taken for it', async () => {
    await using folder = await temporaryFolder();
    const mount = await mountOf(folder.path);
    await expect(throwIfSourceGone(mount)).resolves.toBeUndefined();
    await expect(throwIfSourceGone({ ...mount, device: '7:12345' })).rejects.toMatchObject({ code: 'SOURCE_GONE' });
    await expect(throwIfSourceGone({ ...mount, path: join(folder.path, 'gone') })).rejects.toMatchObject({
      code: 'SOURCE_GONE',
    });
  });

  it.skipIf(whyNoFaults !== null)(
    `whose reads all fail is away, not full of bad files; when it reads again, all is copied${whyNoFaults === null ? '' : ` (skipped: ${whyNoFaults})`}`,
    async () => {
      await using image = await mountImage('ext4', 32);
      await writeTree(image.path, { 'a.mov': 3 * MIB, 'b.mov': 3 * MIB });
      await image.unmount();
      await using drive = await driveWithBadCable(image.image);
      await using folder = await temporaryFolder();
      const destinations = [await destinationAt(join(folder.path, 'one'))];
      const { files: listed } = await listVolume(drive.path, { litter: ['lost+found'] });
      await drive.break();
      await expect(copyHere({ source: drive.path, destinations, files: listed })).rejects.toMatchObject({
        code: 'SOURCE_GONE',
      });
      await drive.mend();
      const outcomes = await copyHere({ source: drive.path, destinations, files: listed });
      expect(outcomes.map(({ state }) => state)).toEqual(['written', 'written']);
    },
  );

  it.skipIf(whyNoFaults !== null)(
    `with one file only is away too when no place of that can be read, and a mover that is asked says so${whyNoFaults === null ? '' : ` (skipped: ${whyNoFaults})`}`,
    async () => {
      await using image = await mountImage('ext4', 32);
      await writeTree(image.path, { 'alone.mov': 3 * MIB });
      await image.unmount();
      await using drive = await driveWithBadCable(image.image);
      await using folder = await temporaryFolder();
      const destinations = [await destinationAt(join(folder.path, 'one'))];
      const { files } = await listVolume(drive.path, { litter: ['lost+found'] });
      const mount = await mountOf(drive.path);
      const { signal } = new AbortController();
      const mover = startMover();
      expect(await mover.isAnswering(mount, signal)).toBe(true);
      await drive.break();
      expect(await mover.isAnswering(mount, signal)).toBe(false);
      await expect(copyHere({ source: drive.path, destinations, files })).rejects.toMatchObject({
        code: 'SOURCE_GONE',
      });
      await drive.mend();
      expect(await mover.isAnswering(mount, signal)).toBe(true);
      await mover.close();
    },
  );

  it.skipIf(whyNoFaults !== null)(
    `a file that alone cannot be read is told with its place, and the rest goes on${whyNoFaults === null ? '' : ` (skipped: ${whyNoFaults})`}`,
    async () => {
      await using image = await mountImage('ext4', 32);
      await writeTree(image.path, { 'bad.mov': 3 * MIB, 'good.mov': 3 * MIB });
      await using folder = await temporaryFolder();
      const destinations = [await destinationAt(join(folder.path, 'one'))];
      // A file whose blocks lie beyond a shortened device: those reads, and only those, fail with EIO.
      const { stdout } = await run('filefrag', ['-s', '-v', '-b1024', join(image.path, 'bad.mov')]);
      const start = Number(/^\s*0:\s+0\.\.\s*\d+:\s+(\d+)\.\./m.exec(stdout)?.[1]) * 1024;
      expect(start).toBeGreaterThan(0);
      await image.unmount();
      await using drive = await driveWithBadStretch(image.image, { start: start + MIB + 8192, length: MIB / 2 });
      const outcomes = await copyHere({ source: drive.path, destinations });
      expect(outcomes).toMatchObject([
        {
          path: 'bad.mov',
          state: 'failed',
          failure: {
            code: 'SOURCE_READ_ERROR',
            retry: 'later',
            sentence: expect.stringContaining(
              `bad.mov on the volume at ${drive.path} cannot be read at byte ${MIB + 8192} (EIO)`,
            ),
          },
        },
        { path: 'good.mov', state: 'written' },
      ]);
    },
  );
});

function eio(): Error {
  return Object.assign(new Error('EIO'), { code: 'EIO' });
}

describe('reading with patience', () => {
  it('gets over an error that passes, and gives the right bytes', async () => {
    let isBad = true;
    const readAt = readWithPatience(
      async (bytes) => {
        if (isBad) {
          isBad = false;
          throw eio();
        }
        bytes.fill(7);
        return bytes.length;
      },
      async () => undefined,
    );
    const bytes = new Uint8Array(300_000);
    expect(await readAt(bytes, 0)).toBe(300_000);
    expect(bytes.every((byte) => byte === 7)).toBe(true);
  });

  it('does not go on when told that there is no use, and passes other errors on at once', async () => {
    const broken = readWithPatience(
      async () => {
        throw eio();
      },
      async () => {
        throw new Error('the drive is away');
      },
    );
    await expect(broken(new Uint8Array(10), 0)).rejects.toThrow('the drive is away');
  });
});

// The numbers of sysmacros.h: makedev(7, 3), makedev(259, 70000).
it('device numbers are written as the kernel writes them', () => {
  expect(deviceText(7 * 256 + 3)).toBe('7:3');
  expect(deviceText(Number((70000n & 0xffn) | ((259n & 0xfffn) << 8n) | ((70000n & ~0xffn) << 12n)))).toBe('259:70000');
});

import { execFileSync, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { createReadStream } from 'node:fs';
import { mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { canMountDrives } from './can-mount-drives.ts';
import { makeDrive } from './make-drive.ts';
import { mountDrive, unmountDrive } from './mount-drive.ts';

const MEBIBYTE = 1024 * 1024;
const ability = await canMountDrives();
let folder = '';

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside drives-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

// The independent view: util-linux's findmnt, blkid and losetup.
function fromFindmnt(path: string): string[] {
  return execFileSync('findmnt', ['--noheadings', '--raw', '--output', 'SOURCE,FSTYPE,VFS-OPTIONS', path], {
    encoding: 'utf8',
  })
    .trim()
    .split(' ');
}
function tagOf(device: string, tag: string): string {
  return execFileSync('blkid', ['-p', '-o', 'value', '-s', tag, device], { encoding: 'utf8' }).trim();
}
function loopsOn(image: string): string {
  return execFileSync('losetup', ['--associated', image], { encoding: 'utf8' }).trim();
}

test('whether drives can be mounted is told with a reason where they cannot', () => {
  expect(ability.ok || ability.reason !== '').toBe(true);
  expect(ability.exfat || ability.reason !== '').toBe(true);
});

describe.each(['ext4', 'exfat'] as const)('%s', (fileSystem) => {
  const isPossible = fileSystem === 'ext4' ? ability.ok : ability.exfat;
  const order = { fileSystem, label: 'ТОЧИЛО 陶', sizeInBytes: 16 * MEBIBYTE };
  const note = isPossible ? '' : ` (skipped: ${ability.reason})`;

  test.skipIf(!isPossible)(
    `a drive keeps its files, its label and its UUID from one mount to the next${note}`,
    async () => {
      await using drive = await makeDrive({ ...order, image: join(folder, `keep.${fileSystem}`) });
      const path = join(folder, `slot one ${fileSystem}`);
      const first = await mountDrive(drive, path);
      expect(fromFindmnt(path)[0]).toBe(first.device);
      expect(tagOf(first.device, 'LABEL')).toBe(order.label);
      const uuid = tagOf(first.device, 'UUID');
      await writeFile(join(path, 'clip.mov'), 'footage');
      await unmountDrive(first);
      expect(await readdir(path)).toStrictEqual([]);

      const elsewhere = join(folder, `slot two ${fileSystem}`);
      await using again = await mountDrive(drive, elsewhere, { readOnly: true });
      expect(tagOf(again.device, 'UUID')).toBe(uuid);
      expect(await readFile(join(elsewhere, 'clip.mov'), 'utf8')).toBe('footage');
      expect(fromFindmnt(elsewhere)[2]?.split(',')).toContain('ro');
      await expect(writeFile(join(elsewhere, 'more.mov'), '')).rejects.toMatchObject({ code: 'EROFS' });
    },
  );

  test.skipIf(!isPossible)(`a drive that was formatted anew has another UUID${note}`, async () => {
    const image = join(folder, `anew.${fileSystem}`);
    const first = await makeDrive({ ...order, image });
    const before = tagOf(first.image, 'UUID');
    // exFAT's serial comes from the clock, in seconds.
    await new Promise((done) => setTimeout(done, 1100));
    await using second = await makeDrive({ ...order, image });
    expect(tagOf(second.image, 'UUID')).not.toBe(before);
  });

  test.skipIf(!isPossible)(
    `nothing is left behind when a test fails, not even with a file still open${note}`,
    async () => {
      const image = join(folder, `fails.${fileSystem}`);
      const path = join(folder, `fails-${fileSystem}`);
      const failing = async (): Promise<void> => {
        await using drive = await makeDrive({ ...order, image });
        await using mounted = await mountDrive(drive, path);
        await writeFile(join(mounted.path, 'held'), 'x'.repeat(MEBIBYTE));
        const held = createReadStream(join(path, 'held'));
        await once(held, 'open');
        setTimeout(() => held.destroy(), 4000);
        throw new Error('the test fails');
      };
      await expect(failing()).rejects.toThrow('the test fails');
      expect(spawnSync('findmnt', [path]).status).toBe(1);
      await expect(stat(image)).rejects.toMatchObject({ code: 'ENOENT' });
      expect(
        execFileSync('losetup', ['--list', '--noheadings', '--output', 'BACK-FILE'], { encoding: 'utf8' }),
      ).not.toContain(`${image}\n`);
    },
  );

  test.skipIf(!isPossible)(`unmounting twice is fine${note}`, async () => {
    await using drive = await makeDrive({ ...order, image: join(folder, `twice.${fileSystem}`) });
    await using mounted = await mountDrive(drive, join(folder, `twice-${fileSystem}`));
    await unmountDrive(mounted);
    await unmountDrive(mounted);
    expect(loopsOn(drive.image)).toBe('');
  });
});

test.skipIf(!ability.ok)(
  'a drive that cannot be mounted leaves no loop device and tells the tool’s words',
  async () => {
    const image = join(folder, 'garbage');
    await writeFile(image, Buffer.alloc(MEBIBYTE, 'garbage'));
    await expect(mountDrive({ image, fileSystem: 'ext4' }, join(folder, 'garbage-mount'))).rejects.toMatchObject({
      code: 'DRIVE_TOOL_FAILED',
      message: expect.stringContaining('wrong fs type'),
    });
    expect(loopsOn(image)).toBe('');
  },
);

test.skipIf(!ability.ok)('a drive that cannot be made leaves no image', async () => {
  const image = join(folder, 'tiny');
  await expect(makeDrive({ image, fileSystem: 'ext4', label: 'TINY', sizeInBytes: 1024 })).rejects.toMatchObject({
    code: 'DRIVE_TOOL_FAILED',
  });
  await expect(stat(image)).rejects.toMatchObject({ code: 'ENOENT' });
});

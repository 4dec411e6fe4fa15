import { execFileSync } from 'node:child_process';
import { mkdir, readdir, readFile, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { generationOf, has, inventedFile, newRoll } from './hash-lists.test-support.ts';
import { readHistory } from './read-history.ts';
import { writeGeneration } from './write-generation.ts';

const NEEDED = ['mkfs.exfat', 'mount.exfat-fuse', 'umount', 'losetup'];
const missing = [...NEEDED.filter((program) => !has(program)), ...(process.getuid?.() === 0 ? [] : ['root'])];

async function exfatVolume(): Promise<{ readonly mount: string; [Symbol.asyncDispose](): Promise<void> }> {
  const roll = await newRoll();
  const image = join(roll.root, 'image');
  const mount = join(roll.root, 'mount');
  await writeFile(image, '');
  await truncate(image, 32 * 1024 * 1024);
  await mkdir(mount);
  execFileSync('mkfs.exfat', [image], { stdio: 'ignore' });
  const device = execFileSync('losetup', ['--find', '--show', image], { encoding: 'utf8' }).trim();
  try {
    execFileSync('mount.exfat-fuse', [device, mount], { stdio: 'ignore' });
  } catch (error) {
    execFileSync('losetup', ['--detach', device]);
    throw error;
  }
  return {
    mount,
    [Symbol.asyncDispose]: async () => {
      execFileSync('umount', [mount]);
      execFileSync('losetup', ['--detach', device]);
      await roll[Symbol.asyncDispose]();
    },
  };
}

// exFAT has no links, so the way that never overwrites is another one here.
it.skipIf(missing.length > 0)(
  `two generations are written to a real exFAT volume, and no name is overwritten${missing.length > 0 ? ` (skipped: no ${missing.join(', ')})` : ''}`,
  async () => {
    await using volume = await exfatVolume();
    const root = join(volume.mount, 'wheel-1');
    await mkdir(root);
    await writeGeneration(root, generationOf([await inventedFile('a.mov')]));
    const second = generationOf([await inventedFile('b.mov')], { startedAt: '2026-03-06T18:00:00.000Z' });
    const { manifestPath } = await writeGeneration(root, second);
    const { generations, faults } = await readHistory(root);
    expect(faults).toEqual([]);
    expect(generations).toHaveLength(2);
    expect(await readdir(join(root, 'ascmhl'))).toHaveLength(3);

    const other = join(volume.mount, 'wheel-2');
    await mkdir(join(other, 'ascmhl'), { recursive: true });
    const taken = join(other, 'ascmhl', '0001_wheel-2_2026-03-06_180000Z.mhl');
    await writeFile(taken, 'torn');
    await expect(writeGeneration(other, second)).rejects.toMatchObject({ code: 'MANIFEST_TAKEN' });
    expect(await readFile(taken, 'utf8')).toBe('torn');
    expect(manifestPath).toContain('0002_wheel-1');
  },
);

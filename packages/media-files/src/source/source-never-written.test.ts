import { execFileSync } from 'node:child_process';
import { lstat } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { traceCopy, whyNoTrace } from '../copy/trace-copy.test-support.ts';
import { listVolume } from '../listing/list-volume.ts';
import {
  copyHere,
  destinationAt,
  mountImage,
  temporaryFolder,
  whyNoMounts,
  writeTree,
} from '../media-files.test-support.ts';

const skipped = whyNoMounts === null ? '' : ` (skipped: ${whyNoMounts})`;
const MIB = 1024 * 1024;

async function stateOf(root: string, paths: readonly string[]): Promise<unknown[]> {
  const states: unknown[] = [];
  for (const path of ['', ...paths]) {
    const { mode, uid, size, mtimeMs, ctimeMs, ino, nlink } = await lstat(join(root, path));
    states.push([path, mode, uid, size, mtimeMs, ctimeMs, ino, nlink]);
  }
  return states;
}

// Promise 1.
describe('the source is never written', () => {
  it.skipIf(whyNoMounts)(`a drive that is mounted read-only is copied like any other${skipped}`, async () => {
    await using image = await mountImage('ext4', 32);
    await using folder = await temporaryFolder();
    await writeTree(image.path, { 'DCIM/a.mov': 5 * MIB, 'b.xml': 100 });
    execFileSync('mount', ['-o', 'remount,ro', image.path]);
    const before = execFileSync('md5sum', [image.image], { encoding: 'utf8' });
    const outcomes = await copyHere({
      source: image.path,
      destinations: [await destinationAt(join(folder.path, 'one'))],
    });
    expect(outcomes.map(({ state }) => state)).toEqual(['written', 'written']);
    expect(execFileSync('md5sum', [image.image], { encoding: 'utf8' })).toBe(before);
  });

  it.skipIf(whyNoMounts)(
    `a drive that could be written is not: no content, time, mode or entry changes, nor when it was last read${skipped}`,
    async () => {
      await using image = await mountImage('ext4', 32);
      await using folder = await temporaryFolder();
      await writeTree(image.path, { 'DCIM/a.mov': 5 * MIB, 'b.xml': 100 });
      execFileSync('mount', ['-o', 'remount,strictatime', image.path]);
      const paths = ['DCIM', 'DCIM/a.mov', 'b.xml'];
      const accessBefore = await Promise.all(
        paths.slice(1).map(async (path) => (await lstat(join(image.path, path))).atimeMs),
      );
      const before = await stateOf(image.path, paths);
      await copyHere({ source: image.path, destinations: [await destinationAt(join(folder.path, 'one'))] });
      expect(await stateOf(image.path, paths)).toEqual(before);
      expect(
        await Promise.all(paths.slice(1).map(async (path) => (await lstat(join(image.path, path))).atimeMs)),
      ).toEqual(accessBefore);
      expect((await listVolume(image.path, { litter: [] })).files.map(({ path }) => path)).toEqual([
        'DCIM/a.mov',
        'b.xml',
      ]);
    },
  );

  // strace, from outside, sees every system call that names a path.
  it.skipIf(whyNoTrace !== null)(
    `every open below it is for reading only, and no call changes a name there${whyNoTrace === null ? '' : ` (skipped: ${whyNoTrace})`}`,
    async () => {
      await using folder = await temporaryFolder();
      const source = join(folder.path, 'drive');
      await writeTree(source, { 'DCIM/a.mov': 5 * MIB + 3, 'DCIM/b.xml': 100, 'c.xml': 200 });
      const lines = await traceCopy(folder.path, {
        source,
        destinations: [await destinationAt(join(folder.path, 'one'))],
      });
      const atSource = lines.filter((line) => line.includes(`${source}/`));
      expect(atSource.length).toBeGreaterThan(5);
      const harmless = /^(?:openat|stat|lstat|newfstatat|statx|readlink|readlinkat|access|faccessat2?|getcwd)\(/;
      for (const line of atSource) {
        expect(line).toMatch(harmless);
        if (line.startsWith('openat')) expect(line).toMatch(/O_RDONLY/);
        expect(line).not.toMatch(/O_WRONLY|O_RDWR|O_CREAT|O_TRUNC|O_APPEND/);
      }
    },
  );
});

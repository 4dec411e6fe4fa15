import { execFileSync } from 'node:child_process';
import { lstat, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { listVolume } from '../listing/list-volume.ts';
import {
  copyHere,
  copyRequestFor,
  destinationAt,
  hasTool,
  mountImage,
  ROLL,
  temporaryFolder,
  whyNoMounts,
  writeTree,
} from '../media-files.test-support.ts';

const skipped = whyNoMounts === null ? '' : ` (skipped: ${whyNoMounts})`;
const whyNoTrace = hasTool('strace') ? null : 'there is no strace';
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
    `every open below it is for reading only, and no call changes a name there; each copy is synced before it is named, each folder before the ledger${whyNoTrace === null ? '' : ` (skipped: ${whyNoTrace})`}`,
    async () => {
      await using folder = await temporaryFolder();
      const source = join(folder.path, 'drive');
      await writeTree(source, { 'DCIM/a.mov': 5 * MIB + 3, 'DCIM/b.xml': 100, 'c.xml': 200 });
      const destination = await destinationAt(join(folder.path, 'one'));
      const request = join(folder.path, 'request.json');
      await writeFile(request, JSON.stringify(await copyRequestFor({ source, destinations: [destination] })));
      const trace = join(folder.path, 'trace');
      const script = fileURLToPath(new URL('./copy-in-this-process.test-support.ts', import.meta.url));
      execFileSync('strace', [
        '-f',
        '-y',
        '-qq',
        '-o',
        trace,
        '-e',
        'trace=%file,fsync,fdatasync,ftruncate,fchmod,fchown,utimensat,pwrite64,write',
        process.execPath,
        '--conditions=source',
        script,
        request,
      ]);
      const lines = joinResumed(await readFile(trace, 'utf8'));

      const atSource = lines.filter((line) => line.includes(`${source}/`));
      expect(atSource.length).toBeGreaterThan(5);
      const harmless = /^(?:openat|stat|lstat|newfstatat|statx|readlink|readlinkat|access|faccessat2?|getcwd)\(/;
      for (const line of atSource) {
        expect(line).toMatch(harmless);
        if (line.startsWith('openat')) expect(line).toMatch(/O_RDONLY/);
        expect(line).not.toMatch(/O_WRONLY|O_RDWR|O_CREAT|O_TRUNC|O_APPEND/);
      }

      // Promises 3 and 4: the order in which a copy comes to its name.
      const stored = join(destination.root, ROLL.folder);
      for (const name of ['DCIM/a.mov', 'DCIM/b.xml', 'c.xml']) {
        const named = lines.findIndex((line) => line.startsWith('link(') && line.includes(`"${stored}/${name}"`));
        const staged = /^link\("([^"]+)"/.exec(lines[named] ?? '')?.[1] ?? 'none';
        const lastWrite = lines.findLastIndex((line) => line.startsWith('pwrite64') && line.includes(`<${staged}>`));
        const synced = lines.findIndex((line) => line.startsWith('fsync') && line.includes(`<${staged}>`));
        const folderOfIt = join(stored, name, '..');
        const folderSynced = lines.findLastIndex(
          (line) => line.startsWith('fsync') && line.includes(`<${folderOfIt}>`),
        );
        const recorded = lines.findIndex(
          (line) => /^p?write(?:64)?\(/.test(line) && line.includes('.quayside/ledger/'),
        );
        expect(staged).toContain('.quayside/staging/');
        const order = [lastWrite, synced, named, folderSynced, recorded];
        expect(order.every((index) => index >= 0)).toBe(true);
        expect(order).toEqual(order.toSorted((one, other) => one - other));
      }
      expect(lines.filter((line) => line.includes(stored) && /^(?:openat.*O_CREAT|rename)/.test(line))).toEqual([]);
    },
  );
});

/** Calls that another thread interrupted stand in two lines; what counts is when they ended. */
function joinResumed(trace: string): string[] {
  const unfinished = new Map<string, string>();
  const lines: string[] = [];
  for (const line of trace.split('\n')) {
    const [, pid = '', rest = ''] = /^(\d+)\s+(.*)$/.exec(line) ?? [];
    const begun = /^(.*) <unfinished \.\.\.>$/.exec(rest)?.[1];
    const resumed = /^<\.\.\. \w+ resumed>(.*)$/.exec(rest)?.[1];
    if (begun !== undefined) unfinished.set(pid, begun);
    else lines.push(resumed === undefined ? rest : (unfinished.get(pid) ?? '') + resumed);
  }
  return lines;
}

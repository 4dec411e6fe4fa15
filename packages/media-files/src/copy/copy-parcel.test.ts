import { readdir, readFile, readlink, rm, stat, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readLedger } from '../ledger/read-ledger.ts';
import { listVolume } from '../listing/list-volume.ts';
import {
  calmControls,
  copyHere,
  destinationAt,
  digestByTool,
  hasTool,
  ROLL,
  temporaryFolder,
  writeTree,
} from '../media-files.test-support.ts';

import { stagedAt, storedAt, summary } from './copy-outcomes.test-support.ts';

const MIB = 1024 * 1024;

describe('copying a parcel', () => {
  it('brings every file to every destination, byte for byte, with its time and the digest other programs give', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    // Around every edge: nothing, less than a block, whole blocks, one small buffer and just over, several large ones.
    const sizes = [0, 1, 4095, 4096, 4097, 256 * 1024, 256 * 1024 + 1, 4 * MIB, 4 * MIB + 1, 21 * MIB + 12_345];
    await writeTree(source, Object.fromEntries(sizes.map((size) => [`DCIM/100/${size}.mov`, size])));
    await utimes(join(source, 'DCIM/100/1.mov'), 1.25, 981173106.789);
    const destinations = [
      await destinationAt(join(folder.path, 'one'), 'primary'),
      await destinationAt(join(folder.path, 'two'), 'backup'),
    ];
    const controls = calmControls();
    const outcomes = await copyHere({ source, destinations, controls, algorithms: ['xxh128', 'md5'] });
    expect(outcomes).toHaveLength(sizes.length * 2);
    for (const outcome of outcomes) {
      if (outcome.state === 'failed') throw new Error(outcome.failure.sentence);
      const root = outcome.destination === 'primary' ? 'one' : 'two';
      const stored = join(folder.path, root, ROLL.folder, outcome.storedPath);
      expect((await readFile(stored)).equals(await readFile(join(source, outcome.path)))).toBe(true);
      expect(Math.abs((await stat(stored)).mtimeMs - (await stat(join(source, outcome.path))).mtimeMs)).toBeLessThan(
        0.01,
      );
      // GNU md5sum and the xxHash project's xxhsum are the independent witnesses.
      if (hasTool('md5sum')) expect(outcome.digests.md5).toBe(digestByTool('md5sum', stored));
      if (hasTool('xxhsum')) expect(outcome.digests.xxh128).toBe(digestByTool('xxhsum', '-H2', stored));
    }
    expect(controls.moved).toBe(sizes.reduce((sum, size) => sum + size));
    for (const { root } of destinations) expect(await stagedAt(root)).toEqual([]);
  });

  it('done again, copies nothing and does not even open the source', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 10, 'b.mov': 300_000 });
    const destinations = [await destinationAt(join(folder.path, 'one'))];
    const first = await copyHere({ source, destinations });
    const { files } = await listVolume(source, { litter: [] });
    // Were it opened, it would now be found to have changed.
    for (const { path } of files) await rm(join(source, path));
    const controls = calmControls();
    const again = await copyHere({ source, destinations, files, controls });
    expect(summary(again)).toEqual(summary(first).map((line) => `${line} already`));
    expect(controls.moved).toBe(300_010);
  });

  it('brings only what is missing: a destination that came later, a copy that was deleted', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 10, 'b.mov': 20 });
    const primary = await destinationAt(join(folder.path, 'one'), 'primary');
    const backup = await destinationAt(join(folder.path, 'two'), 'backup');
    await copyHere({ source, destinations: [primary] });
    await rm(join(primary.root, ROLL.folder, 'b.mov'));
    expect(summary(await copyHere({ source, destinations: [primary, backup] }))).toEqual([
      'a.mov primary a.mov already',
      'a.mov backup a.mov',
      'b.mov primary b.mov',
      'b.mov backup b.mov',
    ]);
  });

  it('adopts the same content where the ledger was lost, instead of copying it twice', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 10, 'b.mov': 5 * MIB });
    const destinations = [await destinationAt(join(folder.path, 'one'))];
    await copyHere({ source, destinations });
    await rm(join(folder.path, 'one/.quayside'), { recursive: true });
    expect(summary(await copyHere({ source, destinations }))).toEqual([
      'a.mov primary a.mov already',
      'b.mov primary b.mov already',
    ]);
    expect(await storedAt(join(folder.path, 'one'))).toEqual(['a.mov', 'b.mov']);
    expect((await readLedger(join(folder.path, 'one'), ROLL.id)).files.size).toBe(2);
  });

  it('asks for more digests of a file that is there: reads it again and adopts it', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 10 });
    const destinations = [await destinationAt(join(folder.path, 'one'))];
    await copyHere({ source, destinations });
    const [outcome] = await copyHere({ source, destinations, algorithms: ['xxh128', 'c4'] });
    expect(outcome).toMatchObject({ state: 'written', already: true, digests: { c4: expect.stringMatching(/^c4/) } });
  });

  const isLinux = process.platform === 'linux';
  it.skipIf(!isLinux)(
    `leaves no file open, also where some files of many are out of the ordinary${isLinux ? '' : ' (skipped: needs /proc)'}`,
    async () => {
      await using folder = await temporaryFolder();
      const source = join(folder.path, 'drive');
      const names = Array.from({ length: 300 }, (_, index) => `${index % 4}/${index}.xml`);
      await writeTree(source, Object.fromEntries(names.map((name) => [name, 100])));
      const { files } = await listVolume(source, { litter: [] });
      await rm(join(source, '1/1.xml'));
      await utimes(join(source, '2/2.xml'), 1, 1);
      const destinations = [
        await destinationAt(join(folder.path, 'one'), 'primary'),
        await destinationAt(join(folder.path, 'two'), 'backup'),
      ];
      await writeTree(join(folder.path, 'two', ROLL.folder), { '3/3.xml': 'other' });
      const openFiles = async (): Promise<string[]> => {
        const open = await readdir('/proc/self/fd');
        const paths = await Promise.all(open.map((fd) => readlink(`/proc/self/fd/${fd}`).catch(() => '')));
        return paths.filter((path) => path.startsWith(folder.path));
      };
      const outcomes = await copyHere({ source, files, destinations });
      const odd = outcomes.filter((outcome) => outcome.state === 'failed' || outcome.storedPath !== outcome.path);
      expect(summary(odd)).toEqual([
        '1/1.xml primary SOURCE_CHANGED',
        '1/1.xml backup SOURCE_CHANGED',
        '2/2.xml primary SOURCE_CHANGED',
        '2/2.xml backup SOURCE_CHANGED',
        '3/3.xml backup 3/3__2.xml',
      ]);
      expect(await openFiles()).toEqual([]);
      for (const { root } of destinations) expect(await stagedAt(root)).toEqual([]);
    },
  );
});

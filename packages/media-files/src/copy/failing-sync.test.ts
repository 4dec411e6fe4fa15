import { readdir } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { forgetfulDrive, whyNoFaults } from '../faulty-drive.test-support.ts';
import { copyHere, destinationAt, readBackHere, temporaryFolder, writeTree } from '../media-files.test-support.ts';
import { stagedAt, storedAt, summary } from './copy-outcomes.test-support.ts';

const skipped = whyNoFaults === null ? '' : ` (skipped: ${whyNoFaults})`;
const MIB = 1024 * 1024;
const SMALL = Object.fromEntries(Array.from({ length: 10 }, (_, index) => [`${index}.xml`, 5000]));

describe('a destination that cannot keep what it was given', () => {
  it.skipIf(whyNoFaults !== null).each([
    ['one large file', { 'a.mov': 3 * MIB }],
    ['many small files', SMALL],
  ])(`once (%s): the copies are made anew, not the sync asked for again${skipped}`, async (_, tree) => {
    await using drive = await forgetfulDrive(32);
    await using folder = await temporaryFolder();
    const source = `${folder.path}/drive`;
    await writeTree(source, { 'first.xml': 10 });
    const destination = await destinationAt(drive.path);
    // What a process does but once at a destination is done before the flushes begin to fail.
    await copyHere({ source, destinations: [destination] });
    await writeTree(source, tree);
    await drive.failFlushes(1);
    const outcomes = await copyHere({ source, destinations: [destination] });
    expect(await drive.failuresLeft()).toBe(0);
    expect(outcomes.every(({ state }) => state === 'written')).toBe(true);
    expect(await stagedAt(drive.path)).toEqual([]);
    const paths = outcomes.map(({ path }) => path);
    expect(await storedAt(drive.path)).toEqual(paths.toSorted());
    expect((await readBackHere(destination, paths)).every(({ state }) => state === 'verified')).toBe(true);
  });

  it.skipIf(whyNoFaults !== null)(
    `twice: it is told, nothing has a final name, and the other destination is served${skipped}`,
    async () => {
      await using drive = await forgetfulDrive(32);
      await using folder = await temporaryFolder();
      const source = `${folder.path}/drive`;
      await writeTree(source, { 'first.xml': 10 });
      const forgetful = await destinationAt(drive.path, 'forgetful');
      const sound = await destinationAt(`${folder.path}/sound`, 'sound');
      await copyHere({ source, destinations: [forgetful, sound] });
      await writeTree(source, { 'second.mov': 3 * MIB });
      await drive.failFlushes(20);
      expect(summary(await copyHere({ source, destinations: [forgetful, sound] }))).toEqual([
        'first.xml forgetful first.xml already',
        'first.xml sound first.xml already',
        'second.mov forgetful DESTINATION_IO_ERROR',
        'second.mov sound second.mov',
      ]);
      await drive.mend();
      expect(await storedAt(drive.path)).toEqual(['first.xml']);
      expect(await stagedAt(drive.path)).toEqual([]);
      expect((await readdir(drive.path)).toSorted()).toContain('pottery');
      expect(summary(await copyHere({ source, destinations: [forgetful] }))).toContain(
        'second.mov forgetful second.mov',
      );
    },
  );
});

import { execFileSync } from 'node:child_process';
import { mkdir, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  copyHere,
  destinationAt,
  mountImage,
  readBackHere,
  ROLL,
  temporaryFolder,
  whyNoMounts,
  writeTree,
} from '../media-files.test-support.ts';

import { stagedAt, storedAt, summary } from './copy-outcomes.test-support.ts';

const skipped = whyNoMounts === null ? '' : ` (skipped: ${whyNoMounts})`;
const MIB = 1024 * 1024;

describe('trouble at one destination', () => {
  it.skipIf(whyNoMounts)(`that is full stops only that one; the other gets everything${skipped}`, async () => {
    await using image = await mountImage('ext4', 16);
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 2 * MIB });
    const full = await destinationAt(image.path, 'full');
    const roomy = await destinationAt(join(folder.path, 'roomy'), 'roomy');
    await copyHere({ source, destinations: [full, roomy] });
    await writeTree(source, { 'b.mov': 30 * MIB, 'c.mov': 100 });
    const outcomes = await copyHere({ source, destinations: [full, roomy] });
    expect(summary(outcomes)).toEqual(
      expect.arrayContaining([
        'a.mov full a.mov already',
        'a.mov roomy a.mov already',
        'b.mov full DESTINATION_FULL',
        'b.mov roomy b.mov',
        'c.mov roomy c.mov',
      ]),
    );
    const failure = outcomes.find(({ state }) => state === 'failed');
    expect(failure).toMatchObject({
      failure: { retry: 'destination', sentence: expect.stringContaining('b.mov was not stored: destination full') },
    });
    expect(await stagedAt(full.root)).toEqual([]);
    expect(await storedAt(full.root)).not.toContain('b.mov');
    expect((await readBackHere(roomy, ['a.mov', 'b.mov', 'c.mov'])).map(({ state }) => state)).toEqual([
      'verified',
      'verified',
      'verified',
    ]);
  });

  it('that is away, or another drive in its place, leaves the other alone, and nothing is written there', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 10 });
    const away = await destinationAt(join(folder.path, 'away'), 'away');
    await rm(away.root, { recursive: true });
    const swapped = {
      ...(await destinationAt(join(folder.path, 'swapped'), 'swapped')),
      id: '00000000-0000-4000-8000-000000000000',
    };
    const fine = await destinationAt(join(folder.path, 'fine'), 'fine');
    expect(summary(await copyHere({ source, destinations: [away, swapped, fine] }))).toEqual([
      'a.mov away DESTINATION_MISSING',
      'a.mov swapped DESTINATION_NOT_MOUNTED',
      'a.mov fine a.mov',
    ]);
    expect(await readdir(swapped.root)).toEqual(['.quayside-destination.json']);
  });

  it.skipIf(whyNoMounts)(`with one folder only is told for the files in it${skipped}`, async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'locked/a.mov': 10, 'open/b.mov': 10 });
    const one = await destinationAt(join(folder.path, 'one'));
    const locked = join(one.root, ROLL.folder, 'locked');
    await mkdir(locked, { recursive: true });
    execFileSync('chattr', ['+i', locked]);
    const outcomes = await copyHere({ source, destinations: [one] });
    execFileSync('chattr', ['-i', locked]);
    expect(summary(outcomes)).toEqual(['locked/a.mov primary DESTINATION_UNWRITABLE', 'open/b.mov primary open/b.mov']);
  });
});

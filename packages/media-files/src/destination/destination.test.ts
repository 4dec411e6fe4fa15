import { execFileSync } from 'node:child_process';
import { copyFile, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import {
  destinationAt,
  mountImage,
  temporaryDestination,
  temporaryFolder,
  whyNoMounts,
} from '../media-files.test-support.ts';
import { driveThatHangs, whyNoFaults } from '../faulty-drive.test-support.ts';
import { answerInTime } from './answer-in-time.ts';
import { checkDestination, findDestinationAway } from './check-destination.ts';
import { freeBytes } from './free-bytes.ts';
import { prepareDestination, readDestinationMarker } from './marker.ts';
import { probeNameFit } from './name-fit.ts';
import { openStagingFolder } from './staging-folder.ts';

const skipped = whyNoMounts === null ? '' : ` (skipped: ${whyNoMounts})`;

describe('the marker of a destination', () => {
  it('is made once, and found again', async () => {
    await using folder = await temporaryFolder();
    expect(await readDestinationMarker(folder.path)).toBeNull();
    const first = await prepareDestination(folder.path, 'primary');
    const second = await prepareDestination(folder.path, 'renamed since');
    expect(first.created).toBe(true);
    expect(second).toEqual({ id: first.id, created: false });
    const marker: unknown = JSON.parse(await readFile(join(folder.path, '.quayside-destination.json'), 'utf8'));
    expect(marker).toMatchObject({ format: 1, id: first.id, name: 'primary' });
  });

  it('is one, also when many make it at the same time, and nothing else is left', async () => {
    await using folder = await temporaryFolder();
    const made = await Promise.all(Array.from({ length: 8 }, () => prepareDestination(folder.path, 'primary')));
    expect(new Set(made.map(({ id }) => id)).size).toBe(1);
    expect(made.filter(({ created }) => created)).toHaveLength(1);
    expect(await readdir(folder.path)).toEqual(['.quayside-destination.json']);
  });
});

describe('checking a destination', () => {
  it('finds nothing wrong with one that is there, and leaves nothing behind', async () => {
    await using folder = await temporaryFolder();
    const destination = await destinationAt(folder.path);
    expect(await checkDestination(destination)).toBeNull();
    expect(await readdir(join(folder.path, '.quayside/staging'))).toEqual([]);
  });

  it('says that a root is missing', async () => {
    await using folder = await temporaryFolder();
    const destination = await destinationAt(join(folder.path, 'away'));
    await rm(destination.root, { recursive: true });
    expect(await checkDestination(destination)).toMatchObject({ code: 'DESTINATION_MISSING', retry: 'destination' });
  });

  it('does not take an empty folder, or another drive, for the destination, and writes nothing there', async () => {
    await using folder = await temporaryFolder();
    const destination = await destinationAt(folder.path);
    await rm(join(folder.path, '.quayside-destination.json'));
    const failure = await checkDestination(destination);
    expect(failure).toMatchObject({ code: 'DESTINATION_NOT_MOUNTED', retry: 'destination' });
    expect(failure?.sentence).toContain(
      `Destination primary is not mounted at ${folder.path} (expected id ${destination.id}`,
    );
    expect(await readdir(folder.path)).toEqual([]);
    await prepareDestination(folder.path, 'another');
    expect(await checkDestination(destination)).toMatchObject({ code: 'DESTINATION_NOT_MOUNTED' });
  });

  it.skipIf(whyNoMounts)(`says that one is read-only${skipped}`, async () => {
    await using image = await mountImage('ext4', 16);
    const destination = await destinationAt(image.path);
    execFileSync('mount', ['-o', 'remount,ro', image.path]);
    expect(await checkDestination(destination)).toMatchObject({ code: 'DESTINATION_READ_ONLY', retry: 'destination' });
  });

  it.skipIf(whyNoMounts)(`says that one may not be written, where even root may not${skipped}`, async () => {
    await using image = await mountImage('ext4', 16);
    const destination = await destinationAt(image.path);
    execFileSync('chattr', ['+i', image.path]);
    const failure = await checkDestination(destination);
    execFileSync('chattr', ['-i', image.path]);
    expect(failure).toMatchObject({ code: 'DESTINATION_UNWRITABLE', retry: 'destination' });
  });
});

it('free bytes are what df says is available', async () => {
  await using folder = await temporaryFolder();
  const byDf = Number(execFileSync('df', ['--output=avail', '-B1', folder.path], { encoding: 'utf8' }).split('\n')[1]);
  // Others write to this disk meanwhile.
  expect(Math.abs((await freeBytes(folder.path)) - byDf)).toBeLessThan(4e9);
});

describe('which names a destination holds', () => {
  it('is found out without leaving anything behind', async () => {
    await using folder = await temporaryFolder();
    expect(await probeNameFit(folder.path)).toBe('any');
    expect(await readdir(folder.path)).toEqual([]);
  });

  it.skipIf(whyNoMounts)(`is only the portable ones for exFAT${skipped}`, async () => {
    await using image = await mountImage('exfat', 16);
    expect(await probeNameFit(image.path)).toBe('portable');
    expect(await readdir(image.path)).toEqual([]);
  });
});

it('staging that a dead process of this host left is removed, and that of others is not', async () => {
  await using folder = await temporaryDestination();
  const own = await openStagingFolder(folder.path);
  const staging = join(own, '..');
  const name = own.split('/').at(-1) ?? '';
  const [host, boot] = name.split('-');
  const children = [`${host}-${boot}-4194304`, `${host}-00000000-1`, `00000000-${boot}-1`, 'theirs'];
  for (const child of children) {
    execFileSync('mkdir', [join(staging, child)]);
    await writeFile(join(staging, child, 'x.part'), 'x');
  }
  await openStagingFolder(folder.path);
  expect((await readdir(staging)).toSorted()).toEqual([name, `00000000-${boot}-1`, 'theirs'].toSorted());
});

it.skipIf(whyNoFaults)(
  `a destination that hangs is told as silent, again without another wait, and is there when it answers${whyNoFaults === null ? '' : ` (skipped: ${whyNoFaults})`}`,
  async () => {
    await using folder = await temporaryFolder();
    const image = join(folder.path, 'image');
    // Prepared beforehand, so that nothing of it is in memory when it is mounted.
    {
      await using mounted = await mountImage('ext4', 32);
      await prepareDestination(mounted.path, 'primary');
      await mounted.unmount();
      await copyFile(mounted.image, image);
    }
    await using drive = await driveThatHangs(image);
    const destination = { name: 'primary', root: drive.path, id: 'not asked yet' };
    drive.hang();
    const asking = answerInTime(destination, () => readDestinationMarker(drive.path), 500);
    await expect(asking).rejects.toMatchObject({ code: 'DESTINATION_SILENT', retry: 'destination' });
    expect(await findDestinationAway(destination)).toMatchObject({ code: 'DESTINATION_SILENT', retry: 'destination' });
    expect(await checkDestination(destination)).toMatchObject({ code: 'DESTINATION_SILENT' });
    drive.goOn();
    let found = await findDestinationAway(destination);
    while (found?.code === 'DESTINATION_SILENT') {
      await setTimeout(50);
      found = await findDestinationAway(destination);
    }
    expect(found).toMatchObject({ code: 'DESTINATION_NOT_MOUNTED' });
  },
);

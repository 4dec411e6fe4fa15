import { execFile } from 'node:child_process';
import { readdir, truncate } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { CopyRequest } from '@quayside/step-sdk/built-in';
import { describe, expect, it } from 'vitest';
import { driveWithBadCable, whyNoFaults } from '../faulty-drive.test-support.ts';
import { listVolume } from '../listing/list-volume.ts';
import {
  calmControls,
  copyHere,
  copyRequestFor,
  destinationAt,
  hasTool,
  mountImage,
  temporaryFolder,
  whyNoMounts,
  writeTree,
} from '../media-files.test-support.ts';
import { startMover } from '../mover/start-mover.ts';
import { BLOCK_BYTES } from './block.ts';
import { expectSameBytes, inodeOf, LARGE_BYTES, partAt, sha256Of, storedAt } from './interrupted-copy.test-support.ts';

const run = promisify(execFile);
const skippedFaults = whyNoFaults === null ? '' : ` (skipped: ${whyNoFaults})`;
const whyNoPowerLoss = whyNoMounts ?? (hasTool('perl') ? null : 'there is no perl to ask for it');

describe('a large copy that was broken off', () => {
  it.skipIf(whyNoFaults !== null)(
    `by its drive's going away is gone on with when the drive is back${skippedFaults}`,
    async () => {
      await using folder = await temporaryFolder();
      await using image = await mountImage('ext4', 256);
      await writeTree(image.path, { 'CLIPS/long.mov': LARGE_BYTES, 'CLIPS/short.mov': 5000 });
      const whole = await sha256Of(join(image.path, 'CLIPS/long.mov'));
      await image.unmount();
      await using drive = await driveWithBadCable(image.image);
      const destination = await destinationAt(join(folder.path, 'one'), 'one');
      const { files } = await listVolume(drive.path, { litter: ['lost+found'] });
      let isBroken = false;
      let passed = 0;
      const onBytes = (bytes: number): void => {
        passed += bytes;
        if (passed > 3 * BLOCK_BYTES && !isBroken) void drive.break();
        isBroken ||= passed > 3 * BLOCK_BYTES;
      };
      const copy = { source: drive.path, destinations: [destination], files };
      await expect(copyHere({ ...copy, controls: { ...calmControls(), onBytes } })).rejects.toMatchObject({
        code: 'SOURCE_GONE',
      });
      const { inode, blocks } = await partAt(destination.root);
      expect(blocks).toBeGreaterThanOrEqual(1);
      await drive.mend();
      await copyHere(copy);
      expect(await inodeOf(storedAt(destination))).toBe(inode);
      expect(await sha256Of(storedAt(destination))).toBe(whole);
    },
  );

  it('by the killing of its process is gone on with by the next one', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeLongFile(source);
    const destination = await destinationAt(join(folder.path, 'one'), 'one');
    const request = await copyRequestFor({ source, destinations: [destination] });
    await copyAndKill(request, async () => undefined);
    const next = startMover();
    const staged = join(destination.root, '.quayside/staging');
    const before = await inodesBelow(staged);
    await next.copy(request, calmControls());
    await next.close();
    expect(before).toContain(await inodeOf(storedAt(destination)));
    await expectSameBytes(destination, source);
  });

  it.skipIf(whyNoPowerLoss)(
    `by a power loss at its destination is gone on with from what was durable${whyNoPowerLoss === null ? '' : ` (skipped: ${whyNoPowerLoss})`}`,
    async () => {
      await using folder = await temporaryFolder();
      await using image = await mountImage('ext4', 1300);
      const source = join(folder.path, 'drive');
      await writeLongFile(source);
      const destination = await destinationAt(image.path, 'one');
      const request = await copyRequestFor({ source, destinations: [destination] });
      await copyAndKill(request, () => losePower(image.path));
      await image.unmount();
      await image.mountAt(image.path);
      const before = await inodesBelow(join(image.path, '.quayside/staging'));
      await copyHere({ source, destinations: [destination] });
      expect(before).toContain(await inodeOf(storedAt(destination)));
      await expectSameBytes(destination, source);
    },
  );
});

/** So long that it is still being copied when its progress has been told: that happens five times a second. The end of it takes no room. */
async function writeLongFile(source: string): Promise<void> {
  await writeTree(source, { 'CLIPS/long.mov': LARGE_BYTES });
  await truncate(join(source, 'CLIPS/long.mov'), 2 ** 30);
}

/** Copies in a process of its own, and kills that behind the third block. */
async function copyAndKill(request: CopyRequest, before: () => Promise<void>): Promise<void> {
  const mover = startMover();
  let passed = 0;
  const onBytes = (bytes: number): void => {
    passed += bytes;
    if (passed <= 3 * BLOCK_BYTES || mover.pid === undefined) return;
    // Held fast, so that it cannot end while the blow is on its way.
    process.kill(mover.pid, 'SIGSTOP');
    void before().then(() => mover.kill());
  };
  // It may see the trouble itself before it is killed.
  const states = await mover.copy(request, { ...calmControls(), onBytes }).then(
    (outcomes) => outcomes.map(({ state }) => state),
    () => ['killed'],
  );
  expect(states).not.toContain('written');
  mover.kill();
}

/** Shuts a file system down as it is, without a last commit (EXT4_IOC_SHUTDOWN, EXT4_GOING_FLAGS_NOLOGFLUSH in the kernel's fs/ext4/ext4.h). */
async function losePower(path: string): Promise<void> {
  const script = 'open(my $f, "<", $ARGV[0]) or die; my $how = pack("L", 2); ioctl($f, 0x8004587d, $how) or die $!';
  await run('perl', ['-e', script, path]);
}

async function inodesBelow(folder: string): Promise<string[]> {
  const names = (await readdir(folder, { recursive: true })).filter((name) => name.endsWith('.part'));
  return Promise.all(names.map((name) => inodeOf(join(folder, name))));
}

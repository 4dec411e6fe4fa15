import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { canUseBay } from '../../bay/can-use-bay.ts';
import { makeDrive } from '../../drives/make-drive.ts';
import { mountDrive } from '../../drives/mount-drive.ts';
import { STUDIO_PREFIX, sweepLeftOvers } from './sweep-left-overs.ts';

const ability = await canUseBay();

/** No process has this number: it is the highest that Linux gives, and one more. */
const NOBODY = '4194305';

it.skipIf(!ability.ok)(
  `what a killed runner left is taken away, and a living one's studio is left alone${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  async () => {
    const [dead, living] = [await mkdtemp(join(tmpdir(), STUDIO_PREFIX)), await mkdtemp(join(tmpdir(), STUDIO_PREFIX))];
    await writeFile(join(dead, 'owner'), NOBODY);
    await writeFile(join(living, 'owner'), String(process.pid));
    const drive = await makeDrive({
      image: join(dead, 'image'),
      fileSystem: 'ext4',
      label: 'LEFT',
      sizeInBytes: 2 ** 23,
    });
    await mountDrive(drive, join(dead, 'data'));
    // Stands for the service's Redis: it holds a file of the drive open, and names it.
    const log = join(dead, 'data', 'log');
    await writeFile(log, '');
    const left = spawn('tail', ['-f', log], { stdio: 'ignore', detached: true });
    const gone = once(left, 'exit');

    expect(await sweepLeftOvers()).toBeGreaterThanOrEqual(1);
    expect(await gone).toEqual([null, 'SIGKILL']);
    expect(existsSync(dead)).toBe(false);
    expect(existsSync(join(living, 'owner'))).toBe(true);
    // The kernel's own table of mounts, and util-linux's losetup.
    expect(await readFile('/proc/self/mountinfo', 'utf8')).not.toContain(dead);
    expect(
      execFileSync('losetup', ['--list', '--noheadings', '--output', 'BACK-FILE'], { encoding: 'utf8' }),
    ).not.toContain(dead);
    await rm(living, { recursive: true });
  },
);

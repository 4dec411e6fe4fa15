import { statSync } from 'node:fs';
import { expect, it } from 'vitest';
import { cannotMount, run, VolumeRig } from '../volume-rig.test-support.ts';
import { deviceNumber } from './device-number.ts';
import { readMounts } from './read-mounts.ts';

it.skipIf(cannotMount)(
  `of stacked mounts the top one counts, and what a mount covers is not there${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const base = rig.dir('base');
    rig.mount('under', base, '-t', 'tmpfs');
    run('mkdir', `${base}/inner`);
    rig.mount('inner', `${base}/inner`, '-t', 'tmpfs');
    rig.mount('over', base, '-t', 'tmpfs');
    const seen = (await readMounts()).filter((mount) => mount.path.startsWith(rig.folder));
    expect(seen.map(({ path, source }) => ({ path, source }))).toEqual([{ path: base, source: 'over' }]);
  },
);

it.skipIf(cannotMount)(
  `what covers a parent folder hides the mounts below it until it is unmounted${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const inner = rig.dir('parent/inner');
    const parent = rig.dir('parent');
    rig.mount('inner', inner, '-t', 'tmpfs');
    rig.mount('cover', parent, '-t', 'tmpfs');
    const paths = async (): Promise<readonly string[]> =>
      (await readMounts()).map(({ path }) => path).filter((path) => path.startsWith(rig.folder));
    expect(await paths()).toEqual([parent]);
    rig.unmount(parent);
    expect(await paths()).toEqual([inner]);
  },
);

it.skipIf(process.platform !== 'linux')(
  'the kernel’s stat agrees about the device of every mount that can be reached (Linux only)',
  async () => {
    for (const mount of (await readMounts()).filter(({ path }) => isReachable(path))) {
      expect([mount.path, deviceNumber(statSync(mount.path, { bigint: true }).dev)]).toEqual([
        mount.path,
        mount.device,
      ]);
    }
  },
);

/** A file system whose program has died answers nothing; the machine may hold one that is not ours. */
function isReachable(path: string): boolean {
  try {
    statSync(path);
    return true;
  } catch {
    return false;
  }
}

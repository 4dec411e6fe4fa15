import { once } from 'node:events';
import { closeSync, mkdirSync, openSync, renameSync, symlinkSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { setTimeout } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { expect, it, onTestFinished } from 'vitest';
import type { Failure } from '@quayside/shoot';
import { writeFolderVolumeMarker } from '../identity/folder-volume.ts';
import {
  cannotMount,
  fuseServerOf,
  reasonAgainst,
  reasonAgainstBtrfs,
  run,
  runLater,
  VolumeRig,
} from '../volume-rig.test-support.ts';
import { isStillMounted } from './is-still-mounted.ts';
import { presentVolumes } from './present-volumes.ts';
import type { VolumeChange } from './volume-changes.ts';
import { watchVolumes } from './watch-volumes.ts';

const needsBtrfs = reasonAgainstBtrfs();
const needsServer = cannotMount || reasonAgainst(['nbdkit', 'nbdfuse', 'blockdev']);
const needsNamespace = reasonAgainst(['unshare']);

/** Watches a root, from its making until the test is over; `next` waits for the next change, without a limit of its own. */
class Watch {
  readonly troubles: Failure[] = [];
  readonly #told: Readable;

  constructor(root: string, folders = false) {
    const stop = new AbortController();
    const onTrouble = (failure: Failure): void => void this.troubles.push(failure);
    const changes = watchVolumes({ roots: [root], folders, intervalMs: 100, signal: stop.signal, onTrouble });
    this.#told = Readable.from(changes);
    this.#told.read();
    onTestFinished(() => stop.abort());
  }

  async next(): Promise<string> {
    for (;;) {
      const change = this.#told.read() as VolumeChange | null;
      if (change) return `${change.kind} ${change.volume.identity.label}`;
      await once(this.#told, 'readable');
    }
  }
}

it.skipIf(cannotMount)(
  `a mount over an existing folder is seen, then its unmount, and the empty folder left over is no volume${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const path = rig.dir('media/wheel');
    await writeFolderVolumeMarker(rig.dir('media/before'), { label: 'BEFORE' });
    const watching = new Watch(rig.dir('media'), true);
    expect(await watching.next()).toBe('appeared BEFORE');
    rig.mount(rig.attach(rig.ext4('WHEEL')), path);
    expect(await watching.next()).toBe('appeared WHEEL');
    rig.unmount(path);
    expect(await watching.next()).toBe('left WHEEL');
    const left = await presentVolumes({ roots: [rig.dir('media')], folders: true });
    expect(left.map(({ identity }) => identity.label)).toEqual(['BEFORE']);
  },
);

it.skipIf(cannotMount)(
  `four volumes that come at once are all seen, two of one label included, exFAT included${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const watching = new Watch(rig.dir('media'));
    const devices = [rig.exfat('UNTITLED'), rig.exfat('UNTITLED'), rig.ext4('WIDE'), rig.exfat('DESK')].map((image) =>
      rig.attach(image),
    );
    devices.forEach((device, index) =>
      rig.mount(device, rig.dir(`media/${index}`), ...(index === 2 ? [] : ['-t', 'exfat-fuse'])),
    );
    const seen = [await watching.next(), await watching.next(), await watching.next(), await watching.next()];
    expect(seen.toSorted()).toEqual(['appeared DESK', 'appeared UNTITLED', 'appeared UNTITLED', 'appeared WIDE']);
  },
);

it.skipIf(cannotMount)(`a volume that is pulled from under an open file is told as left${cannotMount}`, async () => {
  using rig = new VolumeRig();
  const path = rig.dir('media/wheel');
  rig.mount(rig.attach(rig.ext4('WHEEL')), path);
  const watching = new Watch(rig.dir('media'));
  expect(await watching.next()).toBe('appeared WHEEL');
  const file = openSync(path, 'r');
  try {
    rig.unmount(path, '-l');
    expect(await watching.next()).toBe('left WHEEL');
  } finally {
    closeSync(file);
  }
});

it.skipIf(cannotMount)(
  `a volume that was formatted while it was away is another one when it is back${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const path = rig.dir('media/wheel');
    const device = rig.attach(rig.ext4('WHEEL'));
    rig.mount(device, path);
    const watching = new Watch(rig.dir('media'));
    expect(await watching.next()).toBe('appeared WHEEL');
    rig.unmount(path);
    expect(await watching.next()).toBe('left WHEEL');
    run('mkfs.ext4', '-q', '-F', '-L', 'FRESH', device);
    rig.mount(device, path);
    expect(await watching.next()).toBe('appeared FRESH');
  },
);

it.skipIf(cannotMount)(
  `a mounted volume with the marker of a folder volume on it is that mounted volume only${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const path = rig.dir('media/wheel');
    rig.mount(rig.attach(rig.ext4('WHEEL')), path);
    await writeFolderVolumeMarker(path, { label: 'FOLDER' });
    const volumes = await presentVolumes({ roots: [rig.dir('media')], folders: true });
    expect(volumes.map(({ identity }) => identity.label)).toEqual(['WHEEL']);
  },
);

it.skipIf(cannotMount)(
  `a volume that moves to another path in one go has changed its mount${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const path = rig.dir('media/wheel');
    const device = rig.attach(rig.ext4('WHEEL'));
    rig.mount(device, path);
    const watching = new Watch(rig.dir('media'));
    expect(await watching.next()).toBe('appeared WHEEL');
    rig.unmount(path);
    rig.mount(device, rig.dir('media/other'));
    // Both are right, depending on whether a look fell between the two commands.
    const told = await watching.next();
    expect(['changed-mount WHEEL', 'left WHEEL']).toContain(told);
    if (told === 'left WHEEL') expect(await watching.next()).toBe('appeared WHEEL');
  },
);

it.skipIf(cannotMount)(`a volume whose driver hangs does not keep another from being seen${cannotMount}`, async () => {
  using rig = new VolumeRig();
  const stuck = rig.attach(rig.exfat('STUCK'));
  rig.mount(stuck, rig.dir('media/stuck'), '-t', 'exfat-fuse');
  const server = fuseServerOf(stuck);
  process.kill(server, 'SIGSTOP');
  try {
    const watching = new Watch(rig.dir('media'));
    expect(await watching.next()).toBe('appeared STUCK');
    rig.mount(rig.attach(rig.ext4('WHEEL')), rig.dir('media/wheel'));
    expect(await watching.next()).toBe('appeared WHEEL');
  } finally {
    process.kill(server, 'SIGCONT');
  }
});

it.skipIf(needsServer)(
  `a disk that does not answer who it is does not keep another from being seen${needsServer}`,
  async () => {
    using rig = new VolumeRig();
    const { device, server } = await rig.slowDisk();
    run('mkfs.exfat', '-L', 'STUCK', device);
    rig.mount(device, rig.dir('media/stuck'), '-t', 'exfat-fuse');
    run('blockdev', '--flushbufs', device);
    process.kill(server, 'SIGSTOP');
    const watching = new Watch(rig.dir('media'));
    rig.mount(rig.attach(rig.ext4('WHEEL')), rig.dir('media/wheel'));
    expect(await watching.next()).toBe('appeared WHEEL');
    process.kill(server, 'SIGCONT');
    expect(await watching.next()).toBe('appeared STUCK');
  },
);

it.skipIf(cannotMount)(`a clone of a volume makes both of them twins${cannotMount}`, async () => {
  using rig = new VolumeRig();
  const image = rig.ext4('WHEEL');
  run('cp', image, `${image}-clone`);
  rig.mount(rig.attach(image), rig.dir('media/a'));
  const watching = new Watch(rig.dir('media'));
  expect(await watching.next()).toBe('appeared WHEEL');
  rig.mount(rig.attach(`${image}-clone`), rig.dir('media/b'));
  expect([await watching.next(), await watching.next()].toSorted()).toEqual(['appeared WHEEL', 'changed-mount WHEEL']);
  expect((await presentVolumes({ roots: [rig.dir('media')], folders: false })).map(({ hasTwin }) => hasTwin)).toEqual([
    true,
    true,
  ]);
});

it.skipIf(cannotMount)(
  `two mounts of one file system are one volume, also below a root that is a link${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    rig.mount(rig.attach(rig.ext4('WHEEL')), rig.dir('media/a b\nc'));
    rig.mount(join(rig.folder, 'media/a b\nc'), rig.dir('media/bound'), '--bind');
    symlinkSync(rig.dir('media'), join(rig.folder, 'link'));
    const volumes = await presentVolumes({ roots: [join(rig.folder, 'link')], folders: false });
    expect(volumes.map(({ mount }) => mount.path)).toEqual([join(rig.folder, 'media/a b\nc')]);
  },
);

it.skipIf(cannotMount)(`a mount is still the same until something else is on its path${cannotMount}`, async () => {
  using rig = new VolumeRig();
  const path = rig.dir('media/wheel');
  const device = rig.attach(rig.ext4('WHEEL'));
  rig.mount(device, path);
  const [volume] = await presentVolumes({ roots: [rig.dir('media')], folders: false });
  if (!volume) throw new Error('not seen');
  expect(await isStillMounted(volume.mount)).toBe(true);
  rig.mount('none', path, '-t', 'tmpfs');
  expect(await isStillMounted(volume.mount)).toBe(false);
  rig.unmount(path);
  expect(await isStillMounted(volume.mount)).toBe(true);
  rig.unmount(path);
  expect(await isStillMounted(volume.mount)).toBe(false);
  // Something else takes the mount id that became free, so the same volume comes back under another.
  rig.mount('none', rig.dir('elsewhere'), '-t', 'tmpfs');
  rig.mount(device, path);
  expect(await isStillMounted(volume.mount)).toBe(false);
});

it.skipIf(cannotMount)(
  `another drive that takes a drive's place at once, device number and mount id included, is not it${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const path = rig.dir('media/wheel');
    const device = rig.attach(rig.ext4('WHEEL'));
    const other = rig.ext4('WHEEL');
    rig.mount(device, path);
    const [volume] = await presentVolumes({ roots: [rig.dir('media')], folders: false });
    if (!volume) throw new Error('not seen');
    const lines = readFileSync('/proc/self/mountinfo', 'utf8');
    rig.unmount(path);
    run('losetup', '--detach', device);
    run('losetup', device, other);
    rig.mount(device, path);
    // That the kernel does use both again is what the test is about; without that it would prove nothing.
    const [mountId, , number] = lineOf(lines, path);
    expect(lineOf(readFileSync('/proc/self/mountinfo', 'utf8'), path)).toMatchObject({ 0: mountId, 2: number });
    expect(await isStillMounted(volume.mount)).toBe(false);
  },
);

it.skipIf(needsBtrfs)(`the device of a btrfs subvolume is the one that stat gives${needsBtrfs}`, async () => {
  using rig = new VolumeRig();
  const device = rig.attach(rig.image(128));
  run('mkfs.btrfs', '-q', '-L', 'KILN', device);
  rig.mount(device, rig.dir('whole'));
  run('btrfs', 'subvolume', 'create', join(rig.folder, 'whole/sub'));
  rig.mount(device, rig.dir('media/kiln'), '-o', 'subvol=sub');
  const [volume] = await presentVolumes({ roots: [rig.dir('media')], folders: false });
  expect(volume?.identity).toMatchObject({ label: 'KILN', fileSystem: 'btrfs', sizeInBytes: 128 * 1024 * 1024 });
  expect(volume?.mount.device).toBe(run('stat', '-c', '%Hd:%Ld', rig.dir('media/kiln')).trim());
  expect(volume && (await isStillMounted(volume.mount))).toBe(true);
});

it.skipIf(process.platform === 'win32')('a root that does not exist yet is picked up when it appears', async () => {
  using rig = new VolumeRig();
  const watching = new Watch(join(rig.folder, 'later/media'), true);
  const first = watching.next();
  await writeFolderVolumeMarker(rig.dir('aside/media/wheel'), { label: 'WHEEL' });
  renameSync(rig.dir('aside'), join(rig.folder, 'later'));
  expect(await first).toBe('appeared WHEEL');
});

it('a root that cannot be listed is told once and does not count as a departure', async () => {
  using rig = new VolumeRig();
  await writeFolderVolumeMarker(rig.dir('media/wheel'), { label: 'WHEEL' });
  const watching = new Watch(rig.dir('media'), true);
  expect(await watching.next()).toBe('appeared WHEEL');
  renameSync(rig.dir('media'), join(rig.folder, 'aside'));
  // A link to itself cannot be followed, not even by root.
  symlinkSync(join(rig.folder, 'media'), join(rig.folder, 'media'));
  const next = watching.next();
  await expect.poll(() => watching.troubles.map(({ code }) => code)).toContain('ROOT_UNREADABLE');
  // Long enough for more looks into the same trouble.
  await setTimeout(400);
  run('rm', join(rig.folder, 'media'));
  mkdirSync(join(rig.folder, 'media'));
  expect(await next).toBe('left WHEEL');
  expect(watching.troubles.filter(({ code }) => code === 'ROOT_UNREADABLE')).toHaveLength(1);
});

it.skipIf(needsNamespace)(
  `with no inotify watches left that is told, and volumes are still seen${needsNamespace}`,
  async () => {
    using rig = new VolumeRig();
    const program = fileURLToPath(new URL('./watch-without-inotify.test-support.ts', import.meta.url));
    // A user namespace has its own limit, so that of the machine stays as it is.
    const script = 'echo 0 > /proc/sys/user/max_inotify_watches && exec "$@"';
    const args = ['-Ur', 'sh', '-c', script, 'sh', process.execPath, '--conditions=source', program, rig.dir('media')];
    const output = await runLater('unshare', ...args);
    expect(output.trim().split('\n').toSorted()).toEqual(['appeared WHEEL', 'trouble WATCH_LIMIT_REACHED']);
  },
);

function lineOf(mountinfo: string, path: string): readonly string[] {
  return (
    mountinfo
      .split('\n')
      .map((line) => line.split(' '))
      .find((words) => words[4] === path) ?? []
  );
}

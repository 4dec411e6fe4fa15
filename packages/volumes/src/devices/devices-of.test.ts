import { closeSync, existsSync, mkdirSync, openSync, symlinkSync, writeSync } from 'node:fs';
import { basename, join } from 'node:path';
import { expect, it } from 'vitest';
import { cannotMount, mountAt, reasonAgainst, reasonAgainstBtrfs, run, VolumeRig } from '../volume-rig.test-support.ts';
import { devicesOf } from './devices-of.ts';
import { distinctDevices } from './distinct-devices.ts';

const needsPartitions = cannotMount || reasonAgainst(['partx', 'lsblk']);
const needsBtrfs = reasonAgainstBtrfs();

it.skipIf(cannotMount)(
  `a folder deep in a volume, also by way of a link, lies on the volume's disk${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const path = rig.dir('wheel');
    const device = rig.attach(rig.ext4('WHEEL'));
    rig.mount(device, path);
    mkdirSync(join(path, 'a/b'), { recursive: true });
    symlinkSync(join(path, 'a'), join(rig.folder, 'link'));
    for (const folder of [path, join(path, 'a/b'), join(rig.folder, 'link/b')]) {
      expect(await devicesOf(folder)).toMatchObject({
        devices: [basename(device)],
        memory: false,
        network: null,
        fileSystem: 'ext4',
        mountPath: path,
      });
    }
  },
);

it.skipIf(cannotMount)(
  `an exFAT volume behind FUSE lies on its disk, and in an image it counts once with the disk that holds the image${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const device = rig.attach(rig.exfat('HANDS'));
    rig.mount(device, rig.dir('hands'), '-t', 'exfat-fuse');
    const [ours, below] = [await devicesOf(rig.dir('hands')), await devicesOf(rig.folder)];
    expect(ours.devices).toEqual([basename(device)]);
    expect(ours.imageHosts).toEqual(below.devices);
    const groups = distinctDevices([
      { name: 'a', ...ours },
      { name: 'b', ...below },
    ]).groups;
    expect(groups).toEqual([['a', 'b']]);
  },
);

it.skipIf(needsPartitions)(`two partitions of one disk count once, as lsblk has it${needsPartitions}`, async () => {
  using rig = new VolumeRig();
  const image = rig.image(64);
  writePartitionTable(image);
  const disk = rig.attach(image, '-P');
  // Some kernels cannot read partition tables themselves; partx reads it for them.
  if (!existsSync(`${disk}p1`)) run('partx', '-a', disk);
  const folders = ['one', 'two'].map((name, index) => {
    run('mkfs.ext4', '-q', '-F', `${disk}p${index + 1}`);
    rig.mount(`${disk}p${index + 1}`, rig.dir(name));
    return rig.dir(name);
  });
  const places = await Promise.all(folders.map(devicesOf));
  // Second opinion: util-linux' lsblk on the parent of each partition.
  const rows = (JSON.parse(run('lsblk', '-J', '-o', 'NAME,PKNAME,TYPE', '-l', disk)) as Lsblk).blockdevices;
  const parents = rows.filter(({ type }) => type === 'part').map(({ pkname }) => [pkname]);
  expect(parents).toHaveLength(2);
  expect(places.map(({ devices }) => devices)).toEqual(parents);
  expect(distinctDevices(places.map((place, index) => ({ name: `d${index}`, ...place }))).groups).toEqual([
    ['d0', 'd1'],
  ]);
});

interface Lsblk {
  readonly blockdevices: readonly { readonly name: string; readonly pkname: string | null; readonly type: string }[];
}

it.skipIf(needsBtrfs)(
  `a btrfs over two disks lies on both, in a subvolume of its own device number too${needsBtrfs}`,
  async () => {
    using rig = new VolumeRig();
    const disks = [rig.attach(rig.image(128)), rig.attach(rig.image(128))];
    run('mkfs.btrfs', '-q', '-d', 'raid1', '-m', 'raid1', ...disks);
    const path = rig.dir('kiln');
    run('btrfs', 'device', 'scan', ...disks);
    rig.mount(disks[0] ?? '', path);
    run('btrfs', 'subvolume', 'create', join(path, 'sub'));
    const expected = disks.map((disk): string => basename(disk)).toSorted();
    expect((await devicesOf(path)).devices).toEqual(expected);
    expect(await devicesOf(join(path, 'sub'))).toMatchObject({ devices: expected, mountPath: path });
  },
);

it.skipIf(cannotMount)(`a folder in memory is told as such${cannotMount}`, async () => {
  using rig = new VolumeRig();
  rig.mount('none', rig.dir('fast'), '-t', 'tmpfs');
  const place = await devicesOf(rig.dir('fast'));
  expect(place).toMatchObject({ devices: [], memory: true, network: null });
  expect(place.sentence).toContain('memory');
});

it.skipIf(cannotMount)(`an overlay's device is unknown, and the sentence warns of it${cannotMount}`, async () => {
  using rig = new VolumeRig();
  const base = rig.dir('base');
  rig.mount(rig.attach(rig.ext4('WIDE')), base);
  for (const name of ['lower', 'upper', 'work']) mkdirSync(join(base, name));
  const options = `lowerdir=${base}/lower,upperdir=${base}/upper,workdir=${base}/work`;
  rig.mount('overlay', rig.dir('merged'), '-t', 'overlay', '-o', options);
  const place = await devicesOf(rig.dir('merged'));
  expect(place).toMatchObject({ devices: [], memory: false, network: null, fileSystem: 'overlay' });
  expect(place.sentence).toContain('unknown device');
});

it.skipIf(cannotMount)(`a bind mount lies on the disk that it comes from${cannotMount}`, async () => {
  using rig = new VolumeRig();
  const device = rig.attach(rig.ext4('WHEEL'));
  rig.mount(device, rig.dir('whole'));
  mkdirSync(join(rig.folder, 'whole/part'));
  rig.mount(join(rig.folder, 'whole/part'), rig.dir('bound'), '--bind');
  expect(await devicesOf(rig.dir('bound'))).toMatchObject({ devices: [basename(device)], mountPath: rig.dir('bound') });
  expect((await mountAt(rig.dir('bound'))).root).toBe('/part');
});

it('a folder that is not there, or is a file, is a clear error that waits for the destination', async () => {
  const failure = { code: 'FOLDER_UNREACHABLE', retry: 'destination' };
  await expect(devicesOf(join(import.meta.dirname, 'no-such-folder'))).rejects.toMatchObject(failure);
  await expect(devicesOf(import.meta.filename)).rejects.toMatchObject(failure);
});

/** A master boot record with two partitions, by its published layout: entries of 16 bytes from byte 446, `55 AA` at the end. */
function writePartitionTable(image: string): void {
  const record = Buffer.alloc(512);
  for (const [index, [start, length]] of [
    [2048, 60_000],
    [65_536, 60_000],
  ].entries()) {
    const entry = 446 + index * 16;
    record.writeUInt8(0x83, entry + 4);
    record.writeUInt32LE(start ?? 0, entry + 8);
    record.writeUInt32LE(length ?? 0, entry + 12);
  }
  record.writeUInt16BE(0x55aa, 510);
  const file = openSync(image, 'r+');
  writeSync(file, record, 0, 512, 0);
  closeSync(file);
}

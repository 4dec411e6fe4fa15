import { closeSync, openSync, readSync, writeSync } from 'node:fs';
import { expect, it } from 'vitest';
import { VolumeIdentity } from '@quayside/shoot';
import { cannotMount, mountAt, reasonAgainst, run, VolumeRig } from '../volume-rig.test-support.ts';
import { identify } from './identify.ts';

const needsRelabel = cannotMount || reasonAgainst(['tune2fs', 'exfatlabel']);
const nilUuid = '00000000-0000-0000-0000-000000000000';

async function identifyAt(path: string): Promise<VolumeIdentity> {
  return VolumeIdentity.parse(await identify(await mountAt(path)));
}

it.skipIf(needsRelabel)(`an ext4 volume is known by what tune2fs and blockdev say of it${needsRelabel}`, async () => {
  using rig = new VolumeRig();
  const device = rig.attach(rig.ext4('A b"\\ö'));
  rig.mount(device, rig.dir('v'));
  // Second opinion: e2fsprogs' tune2fs reads the superblock by itself, util-linux' blockdev asks the kernel.
  const uuid = /^Filesystem UUID:\s+(\S+)$/m.exec(run('tune2fs', '-l', device))?.[1];
  expect(await identifyAt(rig.dir('v'))).toMatchObject({
    basis: 'uuid',
    uuid,
    label: 'A b"\\ö',
    fileSystem: 'ext4',
    sizeInBytes: Number(run('blockdev', '--getsize64', device)),
  });
});

it.skipIf(needsRelabel)(
  `an exFAT volume behind FUSE is exFAT, with the label that exfatlabel reads${needsRelabel}`,
  async () => {
    using rig = new VolumeRig();
    const device = rig.attach(rig.exfat('Kïln 1'));
    // Second opinion: exfatprogs' own reading of label and serial, before the driver claims the device.
    const [label, serial] = [run('exfatlabel', device), run('exfatlabel', '-i', device)];
    rig.mount(device, rig.dir('v'), '-t', 'exfat-fuse');
    const identity = await identifyAt(rig.dir('v'));
    expect((await mountAt(rig.dir('v'))).fileSystem).toBe('fuseblk');
    expect(identity).toMatchObject({ basis: 'uuid', fileSystem: 'exfat' });
    expect(label).toContain(identity.label ?? 'none');
    expect(serial.toUpperCase()).toContain(identity.uuid?.replace('-', '') ?? 'none');
  },
);

it.skipIf(cannotMount)(
  `a volume keeps its key under another path, device and driver option${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    for (const [image, type] of [
      [rig.ext4('WHEEL'), 'ext4'],
      [rig.exfat('HANDS'), 'exfat-fuse'],
    ] as const) {
      const here = rig.dir(`${type}-here`);
      const first = rig.attach(image);
      rig.mount(first, here, '-t', type);
      const before = await identifyAt(here);
      rig.unmount(here);
      rig.detach(first);
      rig.attach(rig.image());
      rig.attach(rig.image());
      const second = rig.attach(image);
      rig.mount(second, rig.dir(`${type}-there`), '-t', type, '-o', 'ro');
      expect(second).not.toBe(first);
      expect((await identifyAt(rig.dir(`${type}-there`))).key).toBe(before.key);
    }
  },
);

it.skipIf(cannotMount)(`two volumes of one label, size and format have two keys${cannotMount}`, async () => {
  using rig = new VolumeRig();
  rig.mount(rig.attach(rig.exfat('UNTITLED')), rig.dir('a'), '-t', 'exfat-fuse');
  rig.mount(rig.attach(rig.exfat('UNTITLED')), rig.dir('b'), '-t', 'exfat-fuse');
  const [a, b] = [await identifyAt(rig.dir('a')), await identifyAt(rig.dir('b'))];
  expect(a.label).toBe(b.label);
  expect(a.key).not.toBe(b.key);
});

it.skipIf(cannotMount)(
  `a re-formatted volume is another one, on the same device and under the same label${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const device = rig.attach(rig.ext4('WHEEL'));
    rig.mount(device, rig.dir('v'));
    const before = await identifyAt(rig.dir('v'));
    rig.unmount(rig.dir('v'));
    run('mkfs.ext4', '-q', '-F', '-L', 'WHEEL', device);
    rig.mount(device, rig.dir('v'));
    const after = await identifyAt(rig.dir('v'));
    expect(after.key).not.toBe(before.key);
    expect({ ...after, key: '', uuid: '' }).toEqual({ ...before, key: '', uuid: '' });
  },
);

it.skipIf(cannotMount)(
  `a UUID of zeros identifies nothing: the basis is the label, and the key still tells labels apart${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    for (const label of ['WHEEL', 'HANDS']) rig.mount(rig.attach(rig.ext4(label, '-U', nilUuid)), rig.dir(label));
    const [wheel, hands] = [await identifyAt(rig.dir('WHEEL')), await identifyAt(rig.dir('HANDS'))];
    expect(wheel).toMatchObject({ basis: 'label', uuid: null, label: 'WHEEL' });
    expect(wheel.key).not.toBe(hands.key);
  },
);

it.skipIf(cannotMount)(
  `traces of an older format do not hide the file system that is mounted${cannotMount}`,
  async () => {
    using rig = new VolumeRig();
    const image = rig.ext4('WHEEL');
    copyFirstSector(rig.exfat('HANDS'), image);
    const device = rig.attach(image);
    rig.mount(device, rig.dir('v'), '-t', 'ext4');
    expect(() => run('blkid', '-p', device)).toThrow(/ambivalent/);
    expect(await identifyAt(rig.dir('v'))).toMatchObject({ basis: 'uuid', fileSystem: 'ext4', label: 'WHEEL' });
  },
);

it('a share without a device goes by where it comes from, and nothing is thrown', async () => {
  const share = {
    path: '/n',
    mountId: '1',
    device: '0:999',
    root: '/',
    fileSystem: 'nfs4',
    readOnly: false,
    serverAddress: null,
  };
  const [a, b] = [await identify({ ...share, source: 'nas:/a' }), await identify({ ...share, source: 'nas:/b' })];
  expect(a).toMatchObject({ basis: 'label', uuid: null, label: 'nas:/a', fileSystem: 'nfs4', sizeInBytes: 0 });
  expect(a.key).not.toBe(b.key);
});

it('a device that has just gone leaves a weak identity, no error', async () => {
  const gone = {
    path: '/g',
    mountId: '1',
    device: '7:4095',
    root: '/',
    fileSystem: 'vfat',
    source: '/dev/no-such',
    readOnly: false,
  };
  expect(await identify({ ...gone, serverAddress: null })).toMatchObject({ basis: 'label', fileSystem: 'vfat' });
});

/** ext4 leaves its first 1024 bytes alone, so an exFAT boot sector there survives, and both formats can be recognised. */
function copyFirstSector(from: string, to: string): void {
  const sector = Buffer.alloc(512);
  const [source, target] = [openSync(from, 'r'), openSync(to, 'r+')];
  readSync(source, sector, 0, 512, 0);
  writeSync(target, sector, 0, 512, 0);
  closeSync(source);
  closeSync(target);
}

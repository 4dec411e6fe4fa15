import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { blockDeviceOf } from './block-device.ts';
import { wholeDisks } from './whole-disks.ts';

// The kernels of the test machines have no device-mapper, so these trees are laid out by hand as the kernel documents them:
// Documentation/ABI/stable/sysfs-block (size, partition, slaves), Documentation/ABI/testing/sysfs-dev (dev/block).
const sysfs = mkdtempSync(join(tmpdir(), 'quayside-sysfs-'));
afterAll(() => rmSync(sysfs, { recursive: true, force: true }));

function lay(device: string, folder: string, options: { partition?: number; slaves?: readonly string[] } = {}): void {
  const path = join(sysfs, 'devices', folder);
  mkdirSync(join(path, 'slaves'), { recursive: true });
  writeFileSync(join(path, 'size'), '2048\n');
  if (options.partition) writeFileSync(join(path, 'partition'), `${options.partition}\n`);
  for (const slave of options.slaves ?? [])
    symlinkSync(join(sysfs, 'devices', slave), join(path, 'slaves', slave.split('/').at(-1) ?? ''));
  const link = join(sysfs, 'dev/block', device);
  mkdirSync(dirname(link), { recursive: true });
  symlinkSync(path, link);
}

lay('8:0', 'pci/block/sda');
lay('8:2', 'pci/block/sda/sda2', { partition: 2 });
lay('8:17', 'pci/block/sdb/sdb1', { partition: 1 });
lay('259:0', 'pci/block/nvme0n1');
lay('259:5', 'pci/block/nvme0n2/nvme0n2p1', { partition: 1 });
lay('179:8', 'pci/block/mmcblk0boot0');
lay('9:0', 'virtual/block/md0', { slaves: ['pci/block/sda/sda2', 'pci/block/sdb/sdb1'] });
lay('253:1', 'virtual/block/dm-1', { slaves: ['virtual/block/md0'] });

const disksOf = (device: string): readonly string[] => {
  const found = blockDeviceOf(device, sysfs);
  if (!found) throw new Error(`${device} is not in the tree`);
  return wholeDisks(found);
};

it('a partition is on its disk', () => expect(disksOf('8:2')).toEqual(['sda']));

it('an encrypted RAID of two partitions is on both disks', () => expect(disksOf('253:1')).toEqual(['sda', 'sdb']));

it('two namespaces of one NVMe drive are one piece of hardware', () => {
  expect([disksOf('259:0'), disksOf('259:5')]).toEqual([['nvme0'], ['nvme0']]);
});

it('the boot area of an eMMC is on the eMMC', () => expect(disksOf('179:8')).toEqual(['mmcblk0']));

it('a device that the kernel does not have is none', () => expect(blockDeviceOf('8:99', sysfs)).toBeNull());

it('sizes in sysfs are in units of 512 bytes', () =>
  expect(blockDeviceOf('8:0', sysfs)?.sizeInBytes).toBe(1024 * 1024));

import { existsSync, readdirSync, realpathSync } from 'node:fs';
import { basename, join } from 'node:path';
import { type BlockDevice, diskFolder } from './block-device.ts';

/**
 * The physical disks below a block device, by name and each once: a partition's disk, and through `slaves/` the disks of an
 * encrypted, mapped, cached or RAID device. A loop device is a disk of its own: whoever counts looks at the file it stands on.
 */
export function wholeDisks(device: Pick<BlockDevice, 'folder'>): readonly string[] {
  return [...new Set(disksBelow(device.folder))].toSorted();
}

function disksBelow(folder: string): readonly string[] {
  const disk = diskFolder(folder);
  const slaves = join(disk, 'slaves');
  const below = existsSync(slaves) ? readdirSync(slaves) : [];
  if (below.length === 0) return [physicalName(basename(disk))];
  return below.flatMap((name) => disksBelow(realpathSync(join(slaves, name))));
}

/** Several namespaces of one NVMe drive, and the boot areas of one eMMC, are the same piece of hardware. */
function physicalName(name: string): string {
  return /^(nvme\d+)(?:c\d+)?n\d+$/.exec(name)?.[1] ?? /^(mmcblk\d+)(?:boot|rpmb|gp)\d*$/.exec(name)?.[1] ?? name;
}

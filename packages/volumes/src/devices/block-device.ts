import { existsSync, readdirSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { deviceNumber } from '../mounts/device-number.ts';
import type { MountEntry } from '../mounts/mount-entry.ts';

/** A disk, a partition or a mapping as the kernel shows it in sysfs. */
export interface BlockDevice {
  /** The kernel's name: `sda1`, `loop0`, `dm-2`. */
  readonly name: string;
  readonly node: string;
  /** Its folder in sysfs, links resolved. */
  readonly folder: string;
  readonly sizeInBytes: number;
}

/** The block device with this `major:minor`, or null when the kernel has none (any more). Touches no drive. */
export function blockDeviceOf(device: string, sysfs = '/sys'): BlockDevice | null {
  return describeIfThere(join(sysfs, 'dev/block', device));
}

/**
 * The block devices that a mount's data lies on directly: one, or for a file system over several devices all of them, by
 * name; none for a mount that no block device is known to be behind.
 */
export function blockDevicesBehind(
  mount: Pick<MountEntry, 'device' | 'source' | 'fileSystem'>,
): readonly BlockDevice[] {
  const direct = blockDeviceOf(mount.device);
  if (direct) return [direct];
  // btrfs and some FUSE drivers show a device number that is made up; the source then names the device.
  const named = mount.source.split(':').flatMap((source) => blockDeviceAt(source) ?? []);
  const members = mount.fileSystem === 'btrfs' && named[0] ? btrfsMembers(named[0].name) : [];
  return (members.length > 0 ? members : named).toSorted((a, b) => (a.name < b.name ? -1 : 1));
}

function blockDeviceAt(node: string): BlockDevice | null {
  if (!node.startsWith('/dev/')) return null;
  const stat = statSync(node, { bigint: true, throwIfNoEntry: false });
  return stat?.isBlockDevice() ? blockDeviceOf(deviceNumber(stat.rdev)) : null;
}

/** A mount of a btrfs over several devices names one of them; sysfs has them all. */
function btrfsMembers(name: string): readonly BlockDevice[] {
  const all = '/sys/fs/btrfs';
  for (const id of existsSync(all) ? readdirSync(all) : []) {
    const folder = join(all, id, 'devices');
    if (!existsSync(join(folder, name))) continue;
    return readdirSync(folder).flatMap((member) => describeIfThere(join(folder, member)) ?? []);
  }
  return [];
}

function describeIfThere(link: string): BlockDevice | null {
  try {
    return describe(realpathSync(link));
  } catch {
    // Asked for a device that is not there, or a drive that goes at this very moment.
    return null;
  }
}

function describe(folder: string): BlockDevice {
  // sysfs writes `!` for a slash in a device's name.
  const name = basename(folder).replaceAll('!', '/');
  return {
    name,
    node: `/dev/${name}`,
    folder,
    // Always in units of 512 bytes, whatever the drive's own sector is (kernel: Documentation/ABI/stable/sysfs-block).
    sizeInBytes: Number(readAttribute(folder, 'size') ?? 0) * 512,
  };
}

/** The sysfs folder of the disk that a partition is on; any other device's own. */
export function diskFolder(folder: string): string {
  return existsSync(join(folder, 'partition')) ? dirname(folder) : folder;
}

/** One attribute of a device, trimmed; null when there is none, it is empty, or the drive has just gone. */
export function readAttribute(folder: string, name: string): string | null {
  try {
    return readFileSync(join(folder, name), 'utf8').trim() || null;
  } catch {
    return null;
  }
}

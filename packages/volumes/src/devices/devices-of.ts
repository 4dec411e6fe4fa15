import { opendir, realpath } from 'node:fs/promises';
import { QuaysideError } from '@quayside/shoot';
import { macDisksOf } from '../mac/mac-disks-of.ts';
import type { MountEntry } from '../mounts/mount-entry.ts';
import { readMounts } from '../mounts/read-mounts.ts';
import { isBelow } from '../mounts/visible-mounts.ts';
import { blockDevicesBehind } from './block-device.ts';
import { imageBehind } from './image-behind.ts';
import { serverOf } from './server-of.ts';
import { wholeDisks } from './whole-disks.ts';

/**
 * What a folder's data lies on. With no device, no server and not in memory it is not known (an overlay, a share of a virtual
 * machine's host, a ZFS pool): `sentence` then says so.
 */
export interface FolderDevices {
  /** Physical disks by name, sorted; a loop device is one of them, whatever file it stands on. */
  readonly devices: readonly string[];
  /** The disks, by name and sorted, that hold the image files of those loop devices. */
  readonly imageHosts: readonly string[];
  /** True when the data is gone at the next restart. */
  readonly memory: boolean;
  /** The server of a network share. */
  readonly network: string | null;
  readonly fileSystem: string;
  readonly mountPath: string;
  readonly sentence: string;
}

/** The physical devices below a folder. Throws `FOLDER_UNREACHABLE` when there is no such folder or it cannot be opened. */
export async function devicesOf(path: string): Promise<FolderDevices> {
  const mount = await mountOf(path);
  const disks = process.platform === 'darwin' ? await macDisksOf(mount) : linuxDisksOf(mount);
  const memory = memoryFileSystems.has(mount.fileSystem) || disks.some((disk) => /^(?:zram|ram)\d+$/.test(disk));
  const placed = {
    devices: disks,
    imageHosts: await imageHostsOf(disks),
    memory,
    network: disks.length > 0 || memory ? null : serverOf(mount),
    fileSystem: mount.fileSystem,
    mountPath: mount.path,
  };
  return { ...placed, sentence: tellPlace(path, placed) };
}

/** Where other file systems are mounted that lie on a disk of this volume, such as another partition's. Touches no drive. */
export async function neighboursOf({ path }: Pick<MountEntry, 'path'>): Promise<readonly string[]> {
  const mounts = await readMounts();
  const own = mounts.find((mount) => mount.path === path);
  if (own === undefined || process.platform === 'darwin') return [];
  const disks = new Set(linuxDisksOf(own));
  const others = mounts.filter((mount) => mount.device !== own.device && mount.source.startsWith('/dev/'));
  return others.filter((mount) => linuxDisksOf(mount).some((disk) => disks.has(disk))).map((mount) => mount.path);
}

const memoryFileSystems = new Set(['tmpfs', 'ramfs', 'devtmpfs']);

function linuxDisksOf(mount: MountEntry): readonly string[] {
  return [...new Set(blockDevicesBehind(mount).flatMap(wholeDisks))].toSorted();
}

/** Also of images on images. */
async function imageHostsOf(disks: readonly string[], known: readonly string[] = []): Promise<readonly string[]> {
  const mounts = await readMounts();
  const hosts = disks.flatMap((disk) => {
    const mount = mountAround(imageBehind(disk) ?? '', mounts);
    return mount === null ? [] : linuxDisksOf(mount);
  });
  const fresh = [...new Set(hosts)].filter((disk) => !known.includes(disk));
  if (fresh.length === 0) return known.toSorted();
  return imageHostsOf(fresh, [...known, ...fresh]);
}

function tellPlace(path: string, place: Omit<FolderDevices, 'sentence'>): string {
  const kind = `${place.fileSystem}, mounted at ${place.mountPath}`;
  if (place.memory) return `${path} lies in memory (${kind}): it is lost at the next restart, so it is no copy.`;
  if (place.devices.length > 0) return `${path} lies on ${place.devices.join(' and ')} (${kind}).`;
  if (place.network) return `${path} lies on the server ${place.network} (${kind}).`;
  return `${path} lies on an unknown device (${kind}): it may share a disk with another destination, so it is not counted beside one.`;
}

/** The mount that a folder is in, by its real path: a device number alone misleads on btrfs, whose subvolumes each have their own. */
async function mountOf(path: string): Promise<MountEntry> {
  const real = await reach(path);
  const mount = mountAround(real, await readMounts());
  if (mount !== null) return mount;
  const sentence = `No mount was found for the folder ${path}, so its device is unknown. Check that it is still mounted.`;
  throw new QuaysideError({ code: 'FOLDER_UNREACHABLE', sentence, retry: 'destination' });
}

function mountAround(real: string, mounts: readonly MountEntry[]): MountEntry | null {
  const around = mounts.filter((mount) => real === mount.path || isBelow(real, mount.path));
  return around.toSorted((a, b) => b.path.length - a.path.length)[0] ?? null;
}

async function reach(path: string): Promise<string> {
  try {
    const real = await realpath(path);
    // Opening it makes an automounter mount what belongs there.
    await (await opendir(real)).close();
    return real;
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? ` (${String(error.code)})` : '';
    const sentence = `The folder ${path} could not be opened${why}, so its device is unknown. Mount its drive or create the folder.`;
    throw new QuaysideError({ code: 'FOLDER_UNREACHABLE', sentence, retry: 'destination' }, { cause: error });
  }
}

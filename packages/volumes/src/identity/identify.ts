import type { VolumeIdentity } from '@quayside/shoot';
import { blockDevicesBehind } from '../devices/block-device.ts';
import { askDiskutil } from '../mac/ask-diskutil.ts';
import type { MountEntry } from '../mounts/mount-entry.ts';
import { askUdev } from './ask-udev.ts';
import { formatOf } from './format-of.ts';
import { identityFrom } from './identity-key.ts';
import { probeBlkid } from './probe-blkid.ts';
import { serialOf } from './serial-of.ts';

/** An identity, and whether everything that could have told more has answered. When not, asking again may give another key. */
export interface FoundIdentity {
  readonly identity: VolumeIdentity;
  readonly isComplete: boolean;
}

/**
 * Who a mounted volume is. The same volume has the same key under another path, device or driver, asked with the same rights.
 * Never throws for want of a tool: what cannot be found out is null, down to a weak identity on basis `label`.
 */
export async function identify(mount: MountEntry): Promise<VolumeIdentity> {
  return (await lookUpIdentity(mount)).identity;
}

/** As `identify`, and tells whether a tool left the question open because a drive did not answer. */
export async function lookUpIdentity(mount: MountEntry): Promise<FoundIdentity> {
  return process.platform === 'darwin' ? lookUpOnMac(mount) : lookUpOnLinux(mount);
}

async function lookUpOnLinux(mount: MountEntry): Promise<FoundIdentity> {
  const devices = blockDevicesBehind(mount);
  const [first] = devices;
  if (!first) return { identity: identityFrom(withoutDevice(mount)), isComplete: true };
  // Every member of a file system over several devices carries the same UUID and label.
  const probe = await probeBlkid(first.node, mount.fileSystem);
  const probed = typeof probe === 'object' ? probe : null;
  const serial = serialOf(first);
  const noted = probed && serial ? null : await askUdev(first);
  const facts = probed ?? noted;
  const identity = identityFrom({
    fileSystem: probed?.format ?? noted?.format ?? formatOf(mount.fileSystem),
    uuid: facts?.uuid ?? null,
    label: facts?.label ?? null,
    serial: serial ?? noted?.serial ?? null,
    sizeInBytes: devices.reduce((sum, device) => sum + device.sizeInBytes, 0),
  });
  return { identity, isComplete: probe !== 'no answer' };
}

async function lookUpOnMac(mount: MountEntry): Promise<FoundIdentity> {
  const info = mount.source.startsWith('/dev/') ? await askDiskutil(mount.path) : null;
  const facts = info
    ? { ...info, serial: null, fileSystem: formatOf(info.fileSystem ?? mount.fileSystem) }
    : withoutDevice(mount);
  return { identity: identityFrom(facts), isComplete: info !== null || !mount.source.startsWith('/dev/') };
}

/** A share has no device to ask; where it comes from is the only name it has. */
function withoutDevice(mount: MountEntry): Parameters<typeof identityFrom>[0] {
  return { fileSystem: formatOf(mount.fileSystem), uuid: null, serial: null, label: mount.source, sizeInBytes: 0 };
}

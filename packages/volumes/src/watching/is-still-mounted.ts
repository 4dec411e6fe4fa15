import { stat } from 'node:fs/promises';
import type { Mount } from '@quayside/shoot';
import { deviceNumber } from '../mounts/device-number.ts';
import { readMounts } from '../mounts/read-mounts.ts';
import { attachedMounts } from './attached-mount.ts';
import { mountIdOf } from './identity-memory.ts';

/**
 * Whether the path is still this very mount: to be asked before and during work, and after every read error, because an unmounted
 * path is an empty folder of the system's disk. Reads only kernel tables for a real mount, so a dead drive does not hold it up.
 */
export async function isStillMounted(mount: Mount): Promise<boolean> {
  if (mount.mountId.startsWith('folder:')) return isStillTheFolder(mount);
  const here = attachedMounts((await readMounts()).filter(({ path }) => path === mount.path));
  const entry = here.find((one) => mountIdOf(one) === mount.mountId);
  if (!entry) return false;
  const bothMadeUp = entry.device.startsWith('0:') && mount.device.startsWith('0:');
  return entry.device === mount.device || bothMadeUp;
}

/** The one folder of a volume that is mounted, when it is not all of it: a bind mount, or a subvolume. Null otherwise. */
export async function partMounted(mount: Mount): Promise<string | null> {
  const root = (await readMounts()).find(({ path }) => path === mount.path)?.root ?? '/';
  return root === '/' || mount.mountId.startsWith('folder:') ? null : root;
}

async function isStillTheFolder(mount: Mount): Promise<boolean> {
  const found = await stat(mount.path, { bigint: true }).catch(() => null);
  return found !== null && mount.mountId === `folder:${found.ino}` && mount.device === deviceNumber(found.dev);
}

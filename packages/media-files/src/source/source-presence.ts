import { access } from 'node:fs/promises';
import { deviceNumber, type Mount, QuaysideError } from '@quayside/shoot';
import { errorCodeOf, fileCalls } from '../direct-io/file-calls.ts';
import { diskPath } from '../names/disk-path.ts';

/** @throws QuaysideError `SOURCE_GONE` (`retry: 'source'`) when the volume of this mount is not there any more. */
export async function throwIfSourceGone(mount: Mount): Promise<void> {
  const why = await findSourceGone(mount);
  if (why !== null) throw sourceGone(mount, why);
}

/** The error for a volume that is away: an interruption, not a fault of any file. */
export function sourceGone(mount: Mount, why: string): QuaysideError {
  return new QuaysideError({
    code: 'SOURCE_GONE',
    sentence: `The volume at ${mount.path} is away (${why}). What was copied so far is kept; connect it again and the work goes on.`,
    retry: 'source',
  });
}

/** `major:minor` as `Mount.device` has it, from the number that `stat` gives. */
export function deviceText(dev: number | bigint): string {
  return deviceNumber(dev, process.platform);
}

async function findSourceGone(mount: Mount): Promise<string | null> {
  try {
    const device = deviceText((await fileCalls.stat(diskPath(mount.path))).dev);
    if (device !== mount.device) return `device ${device} is mounted there, expected ${mount.device}`;
  } catch (error) {
    return errorCodeOf(error) || String(error);
  }
  return (await isDeviceUnplugged(mount.device)) ? 'its device is unplugged' : null;
}

/** A pulled drive stays in the mount table, and its root may still answer from memory; but the kernel knows no such device any more. */
async function isDeviceUnplugged(device: string): Promise<boolean> {
  if (device.startsWith('0:') || process.platform !== 'linux') return false;
  try {
    await access('/sys/dev/block');
    await access(`/sys/dev/block/${device}`);
    return false;
  } catch (error) {
    return errorCodeOf(error) === 'ENOENT' && error instanceof Error && error.message.includes(device);
  }
}

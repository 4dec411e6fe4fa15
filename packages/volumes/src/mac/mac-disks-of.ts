import type { MountEntry } from '../mounts/mount-entry.ts';
import { askDiskutil } from './ask-diskutil.ts';

/** The physical disks below a mount on a Mac; none when it is a share or unknown. Not run on a Mac. */
export async function macDisksOf(mount: MountEntry): Promise<readonly string[]> {
  if (!mount.source.startsWith('/dev/')) return [];
  return (await askDiskutil(mount.path))?.wholeDisks ?? [];
}

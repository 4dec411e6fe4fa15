import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { readAttribute } from './block-device.ts';

/** Whether the drive behind a mount is there. `number` differs whenever it is attached anew; null where the kernel does not count. */
export type Attachment = { readonly isThere: true; readonly number: string | null } | { readonly isThere: false };

/**
 * Looks in sysfs for the drive with this `major:minor`, not at the drive. The mount of a drive that was pulled stays in the mount
 * table until someone unmounts it, but its device leaves sysfs at once. What has no device of its own is taken to be there.
 */
export function attachmentOf(device: string): Attachment {
  if (process.platform !== 'linux' || device.startsWith('0:')) return { isThere: true, number: null };
  const facts = readAttribute(join(DEVICES, device), 'uevent');
  // DISKSEQ is there since Linux 5.15, for a partition too.
  if (facts !== null) return { isThere: true, number: /^DISKSEQ=(\d+)$/m.exec(facts)?.[1] ?? null };
  return existsSync(DEVICES) ? { isThere: false } : { isThere: true, number: null };
}

const DEVICES = '/sys/dev/block';

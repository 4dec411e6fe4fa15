import { attachmentOf } from '../devices/attachment-of.ts';
import type { MountEntry } from '../mounts/mount-entry.ts';

/** A mount whose drive is there. */
export interface AttachedMount extends MountEntry {
  readonly attachment: string | null;
}

/** Those of the mounts whose drive is there, each with the count of its attachment. */
export function attachedMounts(mounts: readonly MountEntry[]): readonly AttachedMount[] {
  return mounts.flatMap((mount) => {
    const attachment = attachmentOf(mount.device);
    return attachment.isThere ? { ...mount, attachment: attachment.number } : [];
  });
}

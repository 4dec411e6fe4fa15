import type { MountRecord } from './parse-mountinfo.ts';

/** The mounts that a path can still reach: of several on one path the top one, and none that lies below a covered folder. */
export function visibleMounts<Mount extends Pick<MountRecord, 'mountId' | 'parentId' | 'path'>>(
  mounts: readonly Mount[],
): readonly Mount[] {
  const ids = new Set(mounts.map((mount) => mount.mountId));
  const visible = new Set<Mount>();
  const visit = (mount: Mount): void => {
    const attached = mounts.filter((child) => child.parentId === mount.mountId && child !== mount);
    const cover = attached.find((child) => child.path === mount.path);
    if (cover) return visit(cover);
    visible.add(mount);
    // A sibling on a parent folder came later: had it come first, this one would be attached to it.
    attached.filter((child) => !attached.some((sibling) => isBelow(child.path, sibling.path))).forEach(visit);
  };
  // The parent of the topmost mount lies outside our view, so it is not in the list.
  mounts.filter((mount) => !ids.has(mount.parentId) || mount.parentId === mount.mountId).forEach(visit);
  return mounts.filter((mount) => visible.has(mount));
}

/** Whether the path lies strictly below the folder, by its parts. */
export function isBelow(path: string, folder: string): boolean {
  return path !== folder && path.startsWith(folder.endsWith('/') ? folder : `${folder}/`);
}

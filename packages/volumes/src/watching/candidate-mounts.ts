import type { MountEntry } from '../mounts/mount-entry.ts';
import { isBelow } from '../mounts/visible-mounts.ts';

/**
 * The mounts that may be volumes: at or at most three folders below a root, not the system's own file system, not one without
 * files of its own, and of several mounts of one file system one.
 */
export function candidateMounts(mounts: readonly MountEntry[], roots: readonly string[]): readonly MountEntry[] {
  const system = mounts.find((mount) => mount.path === '/')?.device;
  const candidates = mounts.filter(
    (mount) =>
      mount.device !== system &&
      !withoutFootage.has(mount.fileSystem) &&
      !mount.path.includes('/.timemachine/') &&
      roots.some((root) => isWithinReach(mount.path, root)),
  );
  return [...new Set(candidates.map((mount) => mount.device))].flatMap((device) => {
    const same = candidates.filter((mount) => mount.device === device);
    return same.find((mount) => mount.root === '/') ?? same[0] ?? [];
  });
}

function isWithinReach(path: string, root: string): boolean {
  if (path === root) return true;
  if (!isBelow(path, root)) return false;
  return path.slice(root.length).split('/').filter(Boolean).length <= 3;
}

/** Kernel interfaces, memory, and images of software. */
const withoutFootage = new Set(
  `autofs binfmt_misc bpf cgroup cgroup2 configfs debugfs devfs devpts devtmpfs efivarfs erofs fuse.gvfsd-fuse fuse.lxcfs
   fuse.portal fuse.snapfuse fusectl hugetlbfs mqueue nfsd nsfs overlay proc pstore ramfs rpc_pipefs securityfs selinuxfs
   squashfs sysfs tmpfs tracefs`.split(/\s+/),
);

import { watch } from 'chokidar';
import type { Failure } from '@quayside/shoot';
import type { MountEntry } from '../mounts/mount-entry.ts';
import { isBelow } from '../mounts/visible-mounts.ts';

export interface Nudges {
  close(): Promise<void>;
}

/**
 * Calls `onNudge` when something happens directly in one of the folders. Only a hint to look at once: a mount or an unmount raises
 * no file event at all, so whoever relies on it must look by itself as well. Trouble is told once per kind.
 */
export function openNudges(
  roots: readonly string[],
  handlers: { readonly onNudge: () => void; readonly onTrouble: (failure: Failure) => void },
): Nudges {
  const told = new Set<string>();
  const watcher = watch([...roots], {
    depth: 0,
    ignoreInitial: true,
    followSymlinks: false,
    ignorePermissionErrors: true,
  });
  let pending: NodeJS.Timeout | null = null;
  watcher.on('all', () => {
    // A folder in which much happens must not keep us looking all the time.
    pending ??= setTimeout(() => {
      pending = null;
      handlers.onNudge();
    }, 25).unref();
  });
  watcher.on('error', (error) => {
    const failure = troubleFrom(error);
    if (told.has(failure.code)) return;
    told.add(failure.code);
    handlers.onTrouble(failure);
  });
  return watcher;
}

/**
 * The roots on which file events can be had. On a network or FUSE mount there are none, and watching by repeated looks would only
 * repeat what the reader of the mount table does anyway.
 */
export function rootsWithEvents(roots: readonly string[], mounts: readonly MountEntry[]): readonly string[] {
  return roots.filter((root) => {
    const around = mounts.filter((mount) => mount.path === root || isBelow(root, mount.path));
    const mount = around.toSorted((a, b) => b.path.length - a.path.length)[0];
    return !mount || !withoutEvents.test(mount.fileSystem);
  });
}

const withoutEvents = /^(?:fuse.*|nfs4?|cifs|smb3|smbfs|afpfs|9p|virtiofs|vboxsf)$/;

function troubleFrom(error: unknown): Failure {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  if (code === 'ENOSPC' || code === 'EMFILE') {
    const limit =
      code === 'ENOSPC' ? 'fs.inotify.max_user_watches' : 'fs.inotify.max_user_instances or the open-files limit';
    const sentence = `The system allows no more folders to be watched (${code}), so volumes are seen by looking at every interval only. Raise ${limit}.`;
    return { code: 'WATCH_LIMIT_REACHED', sentence, retry: 'later' };
  }
  const why = error instanceof Error ? error.message : String(error);
  const sentence = `Watching the folders of volumes failed (${why}), so volumes are seen by looking at every interval only. Check the folders.`;
  return { code: 'WATCH_FAILED', sentence, retry: 'later' };
}

import { stat } from 'node:fs/promises';
import type { Mount, VolumeIdentity } from '@quayside/shoot';
import { lookUpIdentity } from '../identity/identify.ts';
import { deviceNumber } from '../mounts/device-number.ts';
import type { AttachedMount } from './attached-mount.ts';

/** What was found out about a mounted volume. */
export interface KnownVolume {
  readonly identity: VolumeIdentity;
  readonly mount: Mount;
}

const TRIES_WITHOUT_ANSWER = 2;

/**
 * Remembers who each mount is, so that it is asked once per mount. It forgets a mount as soon as it is not there: mount ids are
 * used again, and what is mounted next may have been formatted in between.
 */
export class IdentityMemory {
  readonly #known = new Map<string, KnownVolume>();
  readonly #asking = new Map<string, Promise<void>>();

  recall(mount: AttachedMount): KnownVolume | undefined {
    return this.#known.get(keyOf(mount));
  }

  /** Settles once the mount's identity is known; a second call for the same mount joins the first. Never rejects for a missing tool. */
  learn(mount: AttachedMount): Promise<void> {
    const key = keyOf(mount);
    const running = this.#asking.get(key);
    if (running) return running;
    const asking = askPatiently(mount)
      .then((known) => {
        // Forgotten meanwhile: what is mounted now may be another volume.
        if (this.#asking.get(key) === asking) this.#known.set(key, known);
      })
      .finally(() => {
        if (this.#asking.get(key) === asking) this.#asking.delete(key);
      });
    this.#asking.set(key, asking);
    return asking;
  }

  forgetAllBut(mounts: readonly AttachedMount[]): void {
    const present = new Set(mounts.map(keyOf));
    for (const map of [this.#known, this.#asking]) {
      for (const key of map.keys()) if (!present.has(key)) map.delete(key);
    }
  }
}

function keyOf(mount: AttachedMount): string {
  return [mount.mountId, mount.path, mount.device, mount.source, mount.attachment ?? ''].join('\0');
}

/** A drive that is slow to wake gets another chance before it is taken for a volume without a UUID. */
async function askPatiently(mount: AttachedMount): Promise<KnownVolume> {
  let found = await lookUpIdentity(mount);
  for (let tries = 1; !found.isComplete && tries < TRIES_WITHOUT_ANSWER; tries += 1)
    found = await lookUpIdentity(mount);
  const device = await deviceAsStatGivesIt(mount);
  return { identity: found.identity, mount: { path: mount.path, mountId: mountIdOf(mount), device } };
}

/** Mount ids and device numbers are both used again at once: a drive that takes another's place within a moment may get the same of each. */
export function mountIdOf({ mountId, attachment }: Pick<AttachedMount, 'mountId' | 'attachment'>): string {
  return attachment === null ? mountId : `${mountId}.${attachment}`;
}

/** On btrfs `stat` shows a device of the subvolume's own, and it is `stat` that `Mount.device` is compared with during work. */
async function deviceAsStatGivesIt(mount: AttachedMount): Promise<string> {
  if (mount.fileSystem !== 'btrfs') return mount.device;
  const found = await stat(mount.path, { bigint: true }).catch(() => null);
  return found ? deviceNumber(found.dev) : mount.device;
}

import { realpath } from 'node:fs/promises';
import { setTimeout } from 'node:timers/promises';
import type { MountEntry } from '../mounts/mount-entry.ts';

/**
 * Finds the real paths of roots, which the mount table has and a configuration need not. A root is resolved once it exists and then
 * no more: asking means touching it, and a root that has become the mount of a dead drive would never answer.
 */
export class RootPaths {
  readonly #resolved = new Map<string, string>();
  readonly #asking = new Map<string, Promise<void>>();

  /** The roots' real paths, in order; a root that is not there or does not answer in time stands as it was given. */
  async resolve(roots: readonly string[], mounts: readonly Pick<MountEntry, 'path'>[]): Promise<readonly string[]> {
    return Promise.all(roots.map((root) => this.#resolveOne(root, mounts)));
  }

  async #resolveOne(root: string, mounts: readonly Pick<MountEntry, 'path'>[]): Promise<string> {
    const given = root.replace(/(?<=.)\/+$/, '');
    if (mounts.some((mount) => mount.path === given)) return given;
    if (!this.#resolved.has(root))
      await Promise.race([this.#ask(root), setTimeout(PATIENCE_MS, undefined, { ref: false })]);
    return this.#resolved.get(root) ?? given;
  }

  #ask(root: string): Promise<void> {
    const running = this.#asking.get(root);
    if (running) return running;
    const asking = realpath(root)
      .then((path) => void this.#resolved.set(root, path))
      // Not there yet: asked again at the next look.
      .catch(() => {})
      .finally(() => this.#asking.delete(root));
    this.#asking.set(root, asking);
    return asking;
  }
}

const PATIENCE_MS = 250;

import { recorderFor, type Configuration } from '@quayside/configuration';
import { applyRollEvent, type RunQueue, type Store } from '@quayside/job-queue';
import { presentVolumes, type SightedVolume } from '@quayside/volumes';
import { attendVolume } from './attend-volume.ts';

export interface DeskParts {
  readonly store: Store;
  readonly queue: RunQueue;
  readonly configuration: Configuration;
  readonly log: (sentence: string, about?: object) => void;
  readonly signal: AbortSignal;
}

/** Attends every volume that is there, each on its own, and lets go of those that leave. */
export class VolumeDesk {
  readonly #parts: DeskParts;
  readonly #attended = new Map<
    string,
    { readonly volume: SightedVolume; readonly leaving: AbortController; readonly done: Promise<void> }
  >();

  constructor(parts: DeskParts) {
    this.#parts = parts;
  }

  /** Attends a volume that came, or that is now mounted elsewhere or anew. */
  async appeared(volume: SightedVolume): Promise<void> {
    const { key } = volume.identity;
    this.#attended.get(key)?.leaving.abort();
    this.#attended.delete(key);
    if (this.#isDestination(volume)) return;
    if (volume.hasTwin) {
      await this.#tellTwin(volume);
      return;
    }
    const leaving = new AbortController();
    const signal = AbortSignal.any([this.#parts.signal, leaving.signal]);
    this.#attended.set(key, { volume, leaving, done: attendVolume({ ...this.#parts, signal }, volume) });
  }

  async left(volume: SightedVolume): Promise<void> {
    const { key } = volume.identity;
    const known = this.#attended.get(key);
    // Another drive of the same identity left, or this one has been seen again elsewhere.
    if (known !== undefined && known.volume.mount.mountId !== volume.mount.mountId) return;
    this.#attended.delete(key);
    known?.leaving.abort();
    await this.#noteGone(key);
  }

  /** Volumes that left while no watcher ran: the view still shows them as there. */
  async forgetThoseGone(where: { readonly roots: readonly string[]; readonly folders: boolean }): Promise<void> {
    const present = new Set((await presentVolumes(where)).map((volume) => volume.identity.key));
    for (const volume of await this.#parts.store.volumes()) {
      if (volume.mount !== null && !present.has(volume.identity.key)) await this.#noteGone(volume.identity.key);
    }
  }

  async settled(): Promise<void> {
    await Promise.allSettled([...this.#attended.values()].map(({ done }) => done));
  }

  async #noteGone(key: string): Promise<void> {
    const { store, log } = this.#parts;
    const now = new Date().toISOString();
    const volume = await store.volume(key);
    if (volume !== null) await store.saveVolume({ ...volume, mount: null, standing: 'gone' });
    const name = volume?.identity.label ?? key;
    log(`Volume ${name} has left.`, { volume: key });
    await store.publish([{ type: 'volume.gone', at: now, subject: key, sentence: `Volume ${name} has left.` }]);
    for (const roll of await store.rolls()) {
      if (roll.volume.key === key && roll.mount !== null)
        await applyRollEvent(this.#parts, roll.id, { event: { type: 'volumeLeft' }, now });
    }
  }

  /** A drive that receives copies is no source, unless a recorder claims it: then the destination on it is refused. */
  #isDestination({ identity, mount }: SightedVolume): boolean {
    const { configuration } = this.#parts;
    const isBelow = (path: string): boolean => `${path}/`.startsWith(`${mount.path}/`);
    return (
      recorderFor(configuration, identity) === null && configuration.destinations.some(({ path }) => isBelow(path))
    );
  }

  /** Nothing can be concluded about a drive that cannot be told from another one, so neither is copied or cleared. */
  async #tellTwin(twin: SightedVolume): Promise<void> {
    const { key, label } = twin.identity;
    await this.#noteGone(key);
    const sentence = `The volume at ${twin.mount.path} (${label ?? key}) cannot be told from another one that is connected, so neither is copied. Disconnect one of them.`;
    this.#parts.log(sentence, { volume: key });
    const data = { code: 'VOLUME_TWIN', severity: 'critical' };
    await this.#parts.store.publish([
      { type: 'finding.raised', at: new Date().toISOString(), subject: key, sentence, data },
    ]);
  }
}

import { recorderFor, type Configuration } from '@quayside/configuration';
import type { Store } from '@quayside/job-queue';
import type { Volume } from '@quayside/shoot';
import type { SightedVolume } from '@quayside/volumes';

/** Writes volumes into the view, and keeps what is done about one volume in order. */
export class VolumeRows {
  readonly #store: Store;
  readonly #configuration: Configuration;
  readonly #turns = new Map<string, Promise<unknown>>();

  constructor({ store, configuration }: { readonly store: Store; readonly configuration: Configuration }) {
    this.#store = store;
    this.#configuration = configuration;
  }

  /**
   * Does the work when all that was asked for before on this volume has ended, in whatever way: a look that is still under
   * way must not overwrite that the volume has left. Work that waits for another turn of the same volume never ends.
   */
  async inTurn<Outcome>(volumeKey: string, work: () => Promise<Outcome>): Promise<Outcome> {
    const before = this.#turns.get(volumeKey) ?? Promise.resolve();
    const mine = before.then(work);
    const ended = mine.catch(() => {});
    this.#turns.set(volumeKey, ended);
    try {
      return await mine;
    } finally {
      if (this.#turns.get(volumeKey) === ended) this.#turns.delete(volumeKey);
    }
  }

  /** Saves a volume that is there: what was known of it, where it is mounted now, and the change. */
  async save({ identity, mount }: SightedVolume, change: Partial<Volume>): Promise<void> {
    const earlier = await this.#store.volume(identity.key);
    const recognised = recorderFor(this.#configuration, identity)?.name ?? null;
    const base: Volume = earlier ?? {
      identity,
      mount,
      standing: 'settling',
      recorder: null,
      rollId: null,
      fileCount: 0,
      sizeInBytes: 0,
      litterCount: 0,
      why: null,
      seenAt: new Date().toISOString(),
    };
    await this.#store.saveVolume({ ...base, mount, recorder: base.recorder ?? recognised, ...change });
  }

  /** Saves that a volume is not there, when it is known at all. */
  async saveGone(volumeKey: string): Promise<Volume | null> {
    const volume = await this.#store.volume(volumeKey);
    if (volume !== null) await this.#store.saveVolume({ ...volume, mount: null, standing: 'gone', why: null });
    return volume;
  }
}

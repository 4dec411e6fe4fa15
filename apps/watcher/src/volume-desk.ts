import { destinationInsideSource, recorderFor } from '@quayside/configuration';
import { applyRollEvent } from '@quayside/job-queue';
import { answerInTime } from '@quayside/media-files';
import { isSought } from '@quayside/pipeline';
import type { Roll } from '@quayside/shoot';
import { isStillMounted, presentVolumes, type SightedVolume } from '@quayside/volumes';
import { attendVolume } from './attend-volume.ts';
import type { DeskParts } from './desk-parts.ts';
import { realPathOf } from './real-path-of.ts';
import { VolumeRows } from './volume-rows.ts';

/** For finding a destination's real path, in milliseconds. */
const PATIENCE_MS = 3000;

/** Attends every volume that is there, each on its own, and lets go of those that leave. */
export class VolumeDesk {
  readonly #parts: DeskParts;
  readonly #rows: VolumeRows;
  readonly #attended = new Map<
    string,
    { readonly volume: SightedVolume; readonly leaving: AbortController; readonly done: Promise<void> }
  >();
  /** By key, those that cannot be told from one another, as they were last seen. */
  readonly #twins = new Map<string, readonly SightedVolume[]>();

  constructor(parts: DeskParts) {
    this.#parts = parts;
    this.#rows = new VolumeRows(parts);
  }

  /**
   * For the start, before watching begins: lets every roll go of its drive, and shows those volumes as gone that left while
   * no watcher ran. Also those that are there may have been away or changed meanwhile, and mount ids are used again, so no
   * verdict counts for a drive before that drive has been looked at anew.
   */
  async beginAnew(where: { readonly roots: readonly string[]; readonly folders: boolean }): Promise<void> {
    const { store } = this.#parts;
    const present = new Set((await presentVolumes(where)).map((volume) => volume.identity.key));
    await this.#letGo((roll) => present.has(roll.volume.key), 'volumeSought');
    await this.#letGo((roll) => !present.has(roll.volume.key));
    for (const { mount, identity } of await store.volumes()) {
      if (mount !== null && !present.has(identity.key)) await this.#noteGone(identity.key);
    }
  }

  /** Attends a volume that came, or that is now mounted elsewhere or anew. */
  async appeared(volume: SightedVolume): Promise<void> {
    const { key } = volume.identity;
    this.#attended.get(key)?.leaving.abort();
    this.#attended.delete(key);
    if (await this.#isDestination(volume)) return;
    if (volume.hasTwin) {
      this.#twins.set(key, [...(this.#twins.get(key) ?? []), volume]);
      await this.#tellTwin(volume);
      return;
    }
    this.#twins.delete(key);
    const leaving = new AbortController();
    const signal = AbortSignal.any([this.#parts.signal, leaving.signal]);
    const done = attendVolume({ ...this.#parts, rows: this.#rows, signal }, volume);
    this.#attended.set(key, { volume, leaving, done });
  }

  async left(volume: SightedVolume): Promise<void> {
    const { key } = volume.identity;
    const known = this.#attended.get(key);
    // Another drive of the same identity left, or this one has been seen again elsewhere.
    if (known !== undefined && known.volume.mount.mountId !== volume.mount.mountId) return;
    this.#attended.delete(key);
    known?.leaving.abort();
    if (!(await this.#isTwinThere(volume))) await this.#noteGone(key);
  }

  async settled(): Promise<void> {
    await Promise.allSettled([...this.#attended.values()].map(({ done }) => done));
  }

  async #noteGone(key: string): Promise<void> {
    const { store, log } = this.#parts;
    await this.#rows.inTurn(key, async () => {
      const volume = await this.#rows.saveGone(key);
      const sentence = `Volume ${volume?.identity.label ?? key} has left.`;
      log(sentence, { volume: key });
      await store.publish([{ type: 'volume.gone', at: new Date().toISOString(), subject: key, sentence }]);
      await this.#letGo((roll) => roll.volume.key === key);
    });
  }

  async #letGo(isMeant: (roll: Roll) => boolean, type: 'volumeLeft' | 'volumeSought' = 'volumeLeft'): Promise<void> {
    const now = new Date().toISOString();
    for (const roll of await this.#parts.store.awakeRolls()) {
      if ((roll.mount === null && !isSought(roll)) || !isMeant(roll)) continue;
      await applyRollEvent(this.#parts, roll.id, { event: { type }, now });
    }
  }

  /** A drive that receives copies is no source, unless a recorder claims it: then the destination on it is refused. */
  async #isDestination({ identity, mount }: SightedVolume): Promise<boolean> {
    const { configuration } = this.#parts;
    if (recorderFor(configuration, identity) !== null) return false;
    const { destinations } = configuration;
    // A link may lead from anywhere to this drive, and the mount table knows real paths only.
    const places = await Promise.all(
      destinations.map(async ({ name, path }) => ({
        name,
        // One that hangs must not keep us from seeing that drives come and go.
        path: await answerInTime({ name, root: path }, () => realPathOf(path), PATIENCE_MS).catch(() => path),
      })),
    );
    return destinationInsideSource([...destinations, ...places], [mount]).length > 0;
  }

  /** Nothing can be concluded about a drive that cannot be told from another one, so neither is copied or cleared. */
  async #tellTwin(twin: SightedVolume): Promise<void> {
    const { key, label } = twin.identity;
    const sentence = `The volume at ${twin.mount.path} (${label ?? key}) cannot be told from another one that is connected, so neither is copied. Disconnect one of them.`;
    const data = { code: 'VOLUME_TWIN', severity: 'critical' };
    const now = new Date().toISOString();
    await this.#rows.inTurn(key, async () => {
      await this.#rows.save(twin, { standing: 'unreadable', why: sentence, seenAt: now });
      await this.#letGo((roll) => roll.volume.key === key);
      await this.#parts.store.publish([{ type: 'finding.raised', at: now, subject: key, sentence, data }]);
    });
    this.#parts.log(sentence, { volume: key });
  }

  /** One of three left, say. Asked of the system, since twins that move are not told apart by what was seen of them. */
  async #isTwinThere({ identity, mount }: SightedVolume): Promise<boolean> {
    const others = (this.#twins.get(identity.key) ?? []).filter(
      (twin) => twin.mount.path !== mount.path || twin.mount.mountId !== mount.mountId,
    );
    const standing = await Promise.all(others.map((twin) => isStillMounted(twin.mount)));
    const there = others.filter((_, index) => standing[index]);
    if (there.length === 0) this.#twins.delete(identity.key);
    else this.#twins.set(identity.key, there);
    return there.length > 0;
  }
}

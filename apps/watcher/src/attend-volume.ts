import { setTimeout as wait } from 'node:timers/promises';
import { recorderFor } from '@quayside/configuration';
import { applyRollEvent } from '@quayside/job-queue';
import { fingerprintOf, listVolume } from '@quayside/media-files';
import { failureOf, type Volume, type VolumeListing } from '@quayside/shoot';
import { describeIdentity, isStillMounted, settle, type Settling, type SightedVolume } from '@quayside/volumes';
import { askForIntake } from './ask-for-intake.ts';
import type { DeskParts } from './volume-desk.ts';

const LOOK_EVERY_MS = 1000;

/**
 * Attends one volume until it leaves: lists it until the listing has settled, then asks for its intake, and lists it again
 * from time to time, because a recorder may still write to it. The signal aborts when the volume leaves or we stop.
 */
export async function attendVolume(parts: DeskParts, sighted: SightedVolume): Promise<void> {
  const attendance = new Attendance(parts, sighted);
  try {
    await attendance.begin();
  } catch (error) {
    parts.log(failureOf(error).sentence, { volume: sighted.identity.key });
  }
  while (!parts.signal.aborted) {
    try {
      await attendance.look();
    } catch (error) {
      if (!parts.signal.aborted) parts.log(failureOf(error).sentence, { volume: sighted.identity.key });
    }
    await wait(attendance.pauseMs(), undefined, { signal: parts.signal }).catch(() => {});
  }
}

class Attendance {
  readonly #parts: DeskParts;
  readonly #sighted: SightedVolume;
  readonly #settleMs: number;
  readonly #relistMs: number;
  #settling: Settling | null = null;
  #settledAs: string | null = null;
  #listedAtMs = Number.NEGATIVE_INFINITY;

  constructor(parts: DeskParts, sighted: SightedVolume) {
    this.#parts = parts;
    this.#sighted = sighted;
    this.#settleMs = parts.configuration.watch.settleSeconds * 1000;
    this.#relistMs = parts.configuration.watch.relistSeconds * 1000;
  }

  async begin(): Promise<void> {
    const { store, log } = this.#parts;
    const { identity } = this.#sighted;
    const now = new Date().toISOString();
    const earlier = await store.volume(identity.key);
    await this.#save(earlier, { standing: 'settling', seenAt: now });
    const sentence = `A volume is there: ${describeIdentity(identity)} at ${this.#sighted.mount.path}.`;
    log(sentence, { volume: identity.key });
    await store.publish([{ type: 'volume.seen', at: now, subject: identity.key, sentence }]);
  }

  pauseMs(): number {
    return this.#settledAs === null ? Math.min(LOOK_EVERY_MS, Math.max(this.#settleMs / 2, 100)) : LOOK_EVERY_MS;
  }

  async look(): Promise<void> {
    await this.#claimWhenAssigned();
    const nowMs = performance.now();
    if (this.#settledAs !== null && nowMs - this.#listedAtMs < this.#relistMs) return;
    const listing = await this.#list();
    if (listing === null) return;
    this.#listedAtMs = performance.now();
    const fingerprint = fingerprintOf(listing);
    if (this.#settledAs !== null && this.#settledAs !== fingerprint) await this.#unsettle();
    this.#settling = settle(this.#settling, fingerprint, { nowMs: this.#listedAtMs, settleMs: this.#settleMs });
    if (this.#settling.state === 'settled') await this.#settle(listing, fingerprint);
  }

  async #list(): Promise<VolumeListing | null> {
    const { configuration, signal } = this.#parts;
    const { mount } = this.#sighted;
    try {
      const listing = await listVolume(mount.path, { litter: configuration.watch.litter, signal });
      // A path whose drive was pulled lists as an empty folder: that says nothing about the drive.
      return (await isStillMounted(mount)) ? listing : null;
    } catch (error) {
      if (signal.aborted || !(await isStillMounted(mount))) return null;
      await this.#change({ standing: 'unreadable', why: failureOf(error).sentence });
      return null;
    }
  }

  async #settle(listing: VolumeListing, fingerprint: string): Promise<void> {
    const { store, log } = this.#parts;
    const { identity } = this.#sighted;
    const isNew = this.#settledAs === null;
    this.#settledAs = fingerprint;
    if (isNew) {
      await store.saveListing(identity.key, listing);
      const sizeInBytes = listing.files.reduce((sum, file) => sum + file.sizeInBytes, 0);
      await this.#change({
        standing: listing.files.length === 0 ? 'empty' : 'settled',
        fileCount: listing.files.length,
        sizeInBytes,
        litterCount: listing.litterCount,
        why: null,
      });
      const sentence = `Volume ${describeIdentity(identity)} has settled with ${listing.files.length} files.`;
      log(sentence, { volume: identity.key });
      await store.publish([{ type: 'volume.settled', at: new Date().toISOString(), subject: identity.key, sentence }]);
    }
    if (listing.files.length > 0) await askForIntake(this.#parts, identity.key, fingerprint);
  }

  async #unsettle(): Promise<void> {
    this.#settledAs = null;
    await this.#change({ standing: 'settling' });
    const rollId = (await this.#parts.store.volume(this.#sighted.identity.key))?.rollId ?? null;
    if (rollId === null) return;
    await applyRollEvent(this.#parts, rollId, { event: { type: 'volumeChanged' }, now: new Date().toISOString() });
  }

  /** An assignment can come at any time; a recorder that the configuration recognises needs none. */
  async #claimWhenAssigned(): Promise<void> {
    const { store, log } = this.#parts;
    const { key } = this.#sighted.identity;
    const volume = await store.volume(key);
    const assigned = (await store.assignments())[key]?.recorder ?? null;
    if (volume === null) {
      // The view was lost: show the volume again.
      this.#settledAs = null;
      await this.#save(null, { standing: 'settling', seenAt: new Date().toISOString() });
      return;
    }
    if (assigned === null || volume.recorder === assigned) return;
    await this.#change({ recorder: assigned });
    log(`Volume ${describeIdentity(volume.identity)} is assigned to ${assigned}.`, { volume: key });
    if (this.#settledAs !== null && volume.standing === 'settled')
      await askForIntake(this.#parts, key, this.#settledAs);
  }

  async #change(change: Partial<Volume>): Promise<void> {
    const latest = await this.#parts.store.volume(this.#sighted.identity.key);
    await this.#save(latest, change);
  }

  async #save(earlier: Volume | null, change: Partial<Volume>): Promise<void> {
    const { identity, mount } = this.#sighted;
    const recognised = recorderFor(this.#parts.configuration, identity)?.name ?? null;
    const base: Volume = earlier ?? {
      identity,
      mount,
      standing: 'settling',
      recorder: recognised,
      rollId: null,
      fileCount: 0,
      sizeInBytes: 0,
      litterCount: 0,
      why: null,
      seenAt: new Date().toISOString(),
    };
    await this.#parts.store.saveVolume({ ...base, mount, recorder: base.recorder ?? recognised, ...change });
  }
}

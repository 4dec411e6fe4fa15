import { setTimeout as wait } from 'node:timers/promises';
import { applyRollEvent } from '@quayside/job-queue';
import { fingerprintOf, listVolume } from '@quayside/media-files';
import { failureOf, type VolumeListing } from '@quayside/shoot';
import { describeIdentity, isStillMounted, settle, type Settling, type SightedVolume } from '@quayside/volumes';
import { askForIntake } from './ask-for-intake.ts';
import type { DeskParts } from './desk-parts.ts';
import type { VolumeRows } from './volume-rows.ts';

const LOOK_EVERY_MS = 1000;

export interface AttendanceParts extends DeskParts {
  readonly rows: VolumeRows;
}

/**
 * Attends one volume until it leaves: lists it until the listing has settled, then asks for its intake, and lists it again
 * from time to time, because a recorder may still write to it. The signal aborts when the volume leaves or we stop; nothing
 * about the volume is written after that.
 */
export async function attendVolume(parts: AttendanceParts, sighted: SightedVolume): Promise<void> {
  const attendance = new Attendance(parts, sighted);
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
  readonly #parts: AttendanceParts;
  readonly #sighted: SightedVolume;
  readonly #settleMs: number;
  readonly #relistMs: number;
  #hasBegun = false;
  #settling: Settling | null = null;
  /** The fingerprint that the view, the listing in it and the roll have been told of; null while there is none. */
  #settledAs: string | null = null;
  #listedAtMs = Number.NEGATIVE_INFINITY;

  constructor(parts: AttendanceParts, sighted: SightedVolume) {
    this.#parts = parts;
    this.#sighted = sighted;
    this.#settleMs = parts.configuration.watch.settleSeconds * 1000;
    this.#relistMs = parts.configuration.watch.relistSeconds * 1000;
  }

  pauseMs(): number {
    return this.#settledAs === null ? Math.min(LOOK_EVERY_MS, Math.max(this.#settleMs / 2, 100)) : LOOK_EVERY_MS;
  }

  async look(): Promise<void> {
    if (!this.#hasBegun) await this.#begin();
    await this.#claimWhenAssigned();
    const nowMs = performance.now();
    if (this.#settledAs !== null && nowMs - this.#listedAtMs < this.#relistMs) return;
    const listing = await this.#list();
    if (listing === null) return;
    this.#listedAtMs = performance.now();
    const fingerprint = fingerprintOf(listing);
    if (this.#settledAs !== null && this.#settledAs !== fingerprint) await this.#unsettle(fingerprint);
    if (this.#settledAs !== null && !(await this.#isInView(listing, fingerprint))) this.#settledAs = null;
    this.#settling = settle(this.#settling, fingerprint, { nowMs: this.#listedAtMs, settleMs: this.#settleMs });
    if (this.#settling.state !== 'settled') return;
    if (this.#settledAs === null) await this.#settle(listing, fingerprint);
    if (listing.files.length > 0) await askForIntake(this.#parts, this.#sighted.identity.key, fingerprint);
  }

  async #begin(): Promise<void> {
    const { store, log } = this.#parts;
    const { identity, mount } = this.#sighted;
    const now = new Date().toISOString();
    const sentence = `A volume is there: ${describeIdentity(identity)} at ${mount.path}.`;
    await this.#inTurn(async () => {
      await this.#save({ standing: 'settling', why: null, seenAt: now });
      await store.publish([{ type: 'volume.seen', at: now, subject: identity.key, sentence }]);
    });
    this.#hasBegun = true;
    log(sentence, { volume: identity.key });
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
      // When it can be read again it settles anew, or it would be called unreadable for as long as its content stays the same.
      this.#settledAs = null;
      this.#settling = null;
      await this.#inTurn(() => this.#save({ standing: 'unreadable', why: failureOf(error).sentence }));
      return null;
    }
  }

  async #settle(listing: VolumeListing, fingerprint: string): Promise<void> {
    const { store, log } = this.#parts;
    const { identity } = this.#sighted;
    const sentence = `Volume ${describeIdentity(identity)} has settled with ${listing.files.length} files.`;
    const standing = standingOf(listing);
    await this.#inTurn(async () => {
      // First, because a settled volume is shown with the verdict of its roll, and that one is about other content.
      await this.#tellRollOfChange(fingerprint);
      await store.saveListing(identity.key, listing);
      await this.#save({
        standing,
        fileCount: listing.files.length,
        sizeInBytes: listing.files.reduce((sum, file) => sum + file.sizeInBytes, 0),
        litterCount: listing.litterCount,
        why: null,
      });
      await store.publish([{ type: 'volume.settled', at: new Date().toISOString(), subject: identity.key, sentence }]);
    });
    // Only now: were it noted before a save that failed, that save would never be made again.
    this.#settledAs = fingerprint;
    log(sentence, { volume: identity.key });
  }

  async #unsettle(fingerprint: string): Promise<void> {
    this.#settledAs = null;
    await this.#inTurn(async () => {
      await this.#save({ standing: 'settling' });
      await this.#tellRollOfChange(fingerprint);
    });
  }

  /**
   * Whether the view says of the volume what was saved there: an older state of Redis may have come back, and then what it has
   * would never be taken in. The listing is read only as long as the roll does not know it.
   */
  async #isInView(listing: VolumeListing, fingerprint: string): Promise<boolean> {
    const { store } = this.#parts;
    const { key } = this.#sighted.identity;
    const volume = await store.volume(key);
    if (volume?.standing !== standingOf(listing)) return false;
    const roll = volume.rollId === null ? null : await store.roll(volume.rollId);
    if (roll?.fingerprint === fingerprint) return true;
    const saved = await store.listing(key);
    return saved !== null && fingerprintOf(saved) === fingerprint;
  }

  /** A roll whose drive is away keeps its verdict, which is about what the drive held then; its drive is shown without it. */
  async #tellRollOfChange(fingerprint: string): Promise<void> {
    const { store } = this.#parts;
    const rollId = (await store.volume(this.#sighted.identity.key))?.rollId ?? null;
    const roll = rollId === null ? null : await store.roll(rollId);
    if (roll === null || roll.mount === null || roll.fingerprint === fingerprint) return;
    await applyRollEvent(this.#parts, roll.id, { event: { type: 'volumeChanged' }, now: new Date().toISOString() });
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
      await this.#inTurn(() => this.#save({ standing: 'settling', seenAt: new Date().toISOString() }));
      return;
    }
    if (assigned === null || volume.recorder === assigned) return;
    await this.#inTurn(() => this.#save({ recorder: assigned }));
    log(`Volume ${describeIdentity(volume.identity)} is assigned to ${assigned}.`, { volume: key });
    if (this.#settledAs !== null && volume.standing === 'settled')
      await askForIntake(this.#parts, key, this.#settledAs);
  }

  /** After the volume has left, or is attended anew, this attendance has nothing more to say about it. */
  async #inTurn(work: () => Promise<void>): Promise<void> {
    const { rows, signal } = this.#parts;
    await rows.inTurn(this.#sighted.identity.key, async () => {
      signal.throwIfAborted();
      await work();
    });
  }

  #save(change: Parameters<VolumeRows['save']>[1]): Promise<void> {
    return this.#parts.rows.save(this.#sighted, change);
  }
}

function standingOf({ files }: VolumeListing): 'empty' | 'settled' {
  return files.length === 0 ? 'empty' : 'settled';
}

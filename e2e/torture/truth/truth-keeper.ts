import type { ShownRoll } from '../../service/start-service.ts';
import type { RecorderDrive } from '../studio/recorder-drive.ts';
import type { TortureStudio } from '../studio/torture-studio.ts';
import { type LookedAt, lookAtCopies } from './look-at-copies.ts';
import { whatIsLacking } from './what-is-lacking.ts';
import type { GivenVerdict } from './witness.ts';

/** A stored file that the runner itself has changed, below the file system. */
export interface Alteration {
  readonly destination: string;
  readonly path: string;
  readonly before: string;
  readonly after: string;
  /** From when on a verdict must know of it: rot after the read-back can only be found by reading again. */
  knowableAtMs: number;
}

/** How long a changed drive may be in the bay and its roll still be shown with the verdict of before, in milliseconds. */
const NOTICE_WITHIN_MS = 6000;

/** Holds every `clear` against what really lies on the media, and keeps those that were wrong. */
export class TruthKeeper {
  readonly alterations: Alteration[] = [];
  readonly wrong: string[] = [];
  /** What is no verdict and should not be either. */
  readonly otherFaults: string[] = [];
  checkedCount = 0;
  readonly #studio: TortureStudio;
  readonly #drives: ReadonlyMap<string, RecorderDrive>;
  readonly #pending: GivenVerdict[] = [];

  constructor(studio: TortureStudio, drives: ReadonlyMap<string, RecorderDrive>) {
    this.#studio = studio;
    this.#drives = drives;
  }

  /** Takes note of a verdict; it is checked when `checkPending` is called next. */
  take(given: GivenVerdict): void {
    if (given.verdict !== 'clear') return;
    if (given.isOfEarlierRun) this.wrong.push(`${given.roll.id} was cleared anew, and its drive is not there`);
    else this.#pending.push(given);
  }

  /** What the API shows must be about what the drive holds now, once it had the time to notice. */
  compareWithDrives(rolls: readonly ShownRoll[]): void {
    const nowMs = Date.now();
    for (const { id, recorder, drivePresent, clearance } of rolls) {
      const drive = this.#drives.get(recorder);
      if (drive === undefined || !drive.isIn || !drivePresent || clearance.verdict !== 'clear') continue;
      const isOfBefore = Date.parse(clearance.judgedAt) < drive.changedAtMs;
      if (isOfBefore && nowMs - drive.insertedAtMs > NOTICE_WITHIN_MS)
        this.#accuse(`${id} is shown clear by a verdict from before its drive was changed`);
    }
  }

  /**
   * Checks what was taken note of, as long as all destinations are there: what was proven must have outlived whatever
   * befell them since, so waiting for them makes the check no easier. What comes meanwhile is for the next call: where a
   * check takes longer than it is until the next verdict, this would never end.
   */
  async checkPending(): Promise<void> {
    for (let left = this.#pending.length; left > 0; left -= 1) {
      if (!this.#studio.destinations.every(({ isIn }) => isIn)) return;
      const given = this.#pending.shift();
      if (given === undefined) return;
      const drive = this.#drives.get(given.roll.recorder);
      const footage = drive?.footageAt(given.judgedAtMs) ?? new Map<string, string>();
      const lacking = whatIsLacking(footage, await this.lookAt(given.roll, given.judgedAtMs));
      this.checkedCount += 1;
      for (const sentence of lacking)
        this.#accuse(`${given.roll.id} was cleared at ${new Date(given.judgedAtMs).toISOString()}: ${sentence}`);
    }
  }

  /** Checks all that was taken note of, also what comes meanwhile: for the end, when every drive goes as fast as it can. */
  async checkAll(): Promise<void> {
    while (this.#pending.length > 0 && this.#studio.destinations.every(({ isIn }) => isIn)) await this.checkPending();
  }

  /** What lies at every destination of a roll, without what the runner itself did to it and nobody could know at that moment. */
  async lookAt(roll: GivenVerdict['roll'], atMs: number): Promise<readonly LookedAt[]> {
    const looked: LookedAt[] = [];
    for (const drive of this.#studio.destinations) looked.push(this.#excuse(await lookAtCopies(roll, drive), atMs));
    return looked;
  }

  #excuse(looked: LookedAt, atMs: number): LookedAt {
    const stored = new Map(looked.stored);
    const proven = new Set(looked.proven);
    for (const { destination, path, before, after, knowableAtMs } of this.alterations) {
      if (knowableAtMs <= atMs || destination !== looked.destination) continue;
      // Still there, or set aside when it was found.
      if (stored.has(path) && stored.get(path) !== after) continue;
      stored.set(path, before);
      proven.add(path);
    }
    return { ...looked, stored, proven };
  }

  #accuse(sentence: string): void {
    if (!this.wrong.includes(sentence)) this.wrong.push(sentence);
  }
}

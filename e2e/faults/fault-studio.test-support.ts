import { join } from 'node:path';
import type { StreamedEvent } from '@quayside/shoot';
import { expect } from 'vitest';
import type { ShownRoll } from '../service/start-service.ts';
import { type Recording, RecorderDrive } from '../torture/studio/recorder-drive.ts';
import { TortureStudio } from '../torture/studio/torture-studio.ts';
import { lookAtCopies } from '../torture/truth/look-at-copies.ts';
import { whatIsLacking } from '../torture/truth/what-is-lacking.ts';

const MIB = 2 ** 20;
/** Generous, for a machine that does much else. */
const WITHIN_MS = 180_000;

/** A studio for several tests after one another, each with drives of its own. */
export class FaultStudio implements AsyncDisposable {
  readonly studio: TortureStudio;
  /** The drives of the test that runs now. */
  #drives: RecorderDrive[] = [];
  #earlier: ReadonlySet<string> = new Set();
  #slots = 0;

  private constructor(studio: TortureStudio) {
    this.studio = studio;
  }

  static async open(change: Readonly<Record<string, unknown>> = {}): Promise<FaultStudio> {
    return new FaultStudio(await TortureStudio.open(change));
  }

  get service(): TortureStudio['service'] {
    return this.studio.service;
  }

  /** A camera drive with one clip of some size and two small files, in its slot and at a pace that lets one strike in the middle. */
  async plugIn(
    recorder: Recording['recorder'],
    { clipMebibytes = 32, pace = 12 * MIB, manner = 'plain' as const }: PlugWish = {},
  ): Promise<RecorderDrive> {
    const drive = await this.record(recorder, clipMebibytes);
    await drive.insert(this.slot(), manner);
    await drive.slot.switches.slowDown(pace);
    return drive;
  }

  async record(recorder: Recording['recorder'], clipMebibytes = 32): Promise<RecorderDrive> {
    const files = { 'CLIPS/A001.MOV': clipMebibytes * MIB + 511, 'CLIPS/B001.MOV': MIB, 'NOTES.TXT': 20 };
    this.#slots += 1;
    const folder = join(this.studio.folder, `recorded-${this.#slots}`);
    const drive = await RecorderDrive.record({ recorder, fileSystem: 'ext4', files }, folder);
    this.#drives.push(drive);
    return drive;
  }

  /** A path in the bay where no drive was yet. */
  slot(): string {
    this.#slots += 1;
    return join(this.studio.bay, `slot ${this.#slots}`);
  }

  destination(name: string): TortureStudio['destinations'][number] {
    const found = this.studio.destinations.find((drive) => drive.name === name);
    if (found === undefined) throw new Error(`There is no destination ${name}.`);
    return found;
  }

  /** The roll of a drive of this test; the one that is connected where there are two. */
  async rollOf(drive: RecorderDrive): Promise<ShownRoll | null> {
    const rolls = await this.service.rolls().catch(() => []);
    const own = rolls.filter(({ id, recorder }) => recorder === drive.recorder && !this.#earlier.has(id));
    return own.find(({ drivePresent }) => drivePresent) ?? own.at(-1) ?? null;
  }

  async until(drive: RecorderDrive, what: string, is: (roll: ShownRoll) => boolean): Promise<ShownRoll> {
    return this.service.until(
      `the roll of ${drive.recorder} ${what}`,
      async () => {
        const roll = await this.rollOf(drive);
        return roll !== null && is(roll) ? roll : null;
      },
      WITHIN_MS,
    );
  }

  /** Waits for the verdict of what the drive holds now, and holds it against what md5sum and xxhsum find on the media. */
  async untilClear(drive: RecorderDrive): Promise<ShownRoll> {
    const isClear = ({ activity, clearance }: ShownRoll): boolean =>
      activity === 'resting' && clearance.verdict === 'clear' && Date.parse(clearance.judgedAt) > drive.insertedAtMs;
    const roll = await this.until(drive, 'is clear', isClear);
    const looked = [];
    for (const destination of this.studio.destinations) looked.push(await lookAtCopies(roll, destination));
    expect(whatIsLacking(drive.footage, looked)).toEqual([]);
    return roll;
  }

  async untilHeld(drive: RecorderDrive): Promise<ShownRoll> {
    return this.until(
      drive,
      'holds',
      ({ activity, clearance }) => activity === 'resting' && clearance.verdict === 'hold',
    );
  }

  /** Waits until so much of the drive's footage is done, by the service's own count: half is all of it written, at both. */
  async untilDone(drive: RecorderDrive, fraction: number): Promise<ShownRoll> {
    return this.until(drive, `is done by ${fraction}`, ({ progress }) => progress.fraction >= fraction);
  }

  /** What was told of a roll, oldest first. */
  async eventsOf(roll: ShownRoll): Promise<readonly StreamedEvent[]> {
    const all: StreamedEvent[] = [];
    for (;;) {
      const after = all.at(-1)?.id ?? '0';
      const { events } = await this.service.get<{ events: readonly StreamedEvent[] }>(
        `/v1/events/list?after=${after}&limit=1000`,
      );
      if (events.length === 0) return all.filter(({ subject }) => subject === roll.id);
      all.push(...events);
    }
  }

  async findingsOf(roll: ShownRoll): Promise<readonly ShownFinding[]> {
    const { findings } = await this.service.get<{ findings: readonly ShownFinding[] }>(`/v1/rolls/${roll.id}`);
    return findings;
  }

  /** After each test: its drives go, and what is known by now is no longer looked at. */
  async clearAway(): Promise<void> {
    for (const drive of this.#drives) await drive[Symbol.asyncDispose]();
    this.#drives = [];
    for (const destination of this.studio.destinations) {
      if (!destination.isIn) await destination.comeBack();
      await destination.slot.switches.slowDown(null);
    }
    if (!this.studio.data.isIn) await this.studio.data.comeBack();
    if (this.service.pid === 0) await this.service.run();
    const rolls = await this.service.until('the API answers', () => this.service.rolls().catch(() => null));
    this.#earlier = new Set(rolls.map(({ id }) => id));
  }

  async [Symbol.asyncDispose](): Promise<void> {
    for (const drive of this.#drives) await drive[Symbol.asyncDispose]();
    await this.studio[Symbol.asyncDispose]();
  }
}

export interface ShownFinding {
  readonly code: string;
  readonly severity: string;
  readonly why: string;
  readonly subject: { readonly id: string; readonly path?: string };
}

interface PlugWish {
  readonly clipMebibytes?: number;
  /** Bytes a second; null for as fast as it goes. */
  readonly pace?: number | null;
  readonly manner?: 'plain' | 'has a bad region';
}

import { statfs } from 'node:fs/promises';
import { join } from 'node:path';
import type { ShownRoll } from '../service/start-service.ts';
import { type Dice, takeDice } from './dice.ts';
import type { RunPlan } from './plan-run.ts';
import type { LastingDrive } from './studio/lasting-drive.ts';
import type { RecorderDrive } from './studio/recorder-drive.ts';
import type { TortureStudio } from './studio/torture-studio.ts';
import type { TruthKeeper } from './truth/truth-keeper.ts';
import type { Witness } from './truth/witness.ts';

/** Everything of one run that a fault may lay hands on, and the story of what was done. */
export class Scene {
  readonly studio: TortureStudio;
  readonly plan: RunPlan;
  readonly dice: Dice;
  readonly drives: ReadonlyMap<string, RecorderDrive>;
  readonly truth: TruthKeeper;
  readonly witness: Witness;
  readonly story: string[] = [];
  readonly #begunMs = performance.now();
  readonly #usedAtStart: ReadonlyMap<string, number>;
  #slots = 0;

  constructor(parts: {
    readonly studio: TortureStudio;
    readonly plan: RunPlan;
    readonly drives: ReadonlyMap<string, RecorderDrive>;
    readonly truth: TruthKeeper;
    readonly witness: Witness;
    readonly usedAtStart: ReadonlyMap<string, number>;
  }) {
    this.studio = parts.studio;
    this.plan = parts.plan;
    this.dice = takeDice(`${parts.plan.diceSeed} scene`);
    this.drives = parts.drives;
    this.truth = parts.truth;
    this.witness = parts.witness;
    this.#usedAtStart = parts.usedAtStart;
  }

  /** The drive that a fault is about, when it is about one. */
  get target(): RecorderDrive {
    const [first] = this.drives.values();
    if (first === undefined) throw new Error('The run has no drive.');
    return first;
  }

  get targetRoll(): ShownRoll | null {
    return this.rollOf(this.target);
  }

  /** The roll of a drive; where it has had two, the one that is connected. */
  rollOf(drive: RecorderDrive): ShownRoll | null {
    const rolls = this.witness.rolls.filter(({ recorder }) => recorder === drive.recorder);
    return rolls.find(({ drivePresent }) => drivePresent) ?? rolls.at(-1) ?? null;
  }

  destination(name: string): LastingDrive {
    const found = this.studio.destinations.find((drive) => drive.name === name);
    if (found === undefined) throw new Error(`There is no destination ${name}.`);
    return found;
  }

  /** A path in the bay where no drive was yet in this run. */
  newSlot(): string {
    this.#slots += 1;
    return join(this.studio.bay, `slot ${this.plan.index} ${this.#slots}`);
  }

  /** A roll's folder at a destination, as the layout of the footage has it. */
  folderAt(destination: LastingDrive, roll: ShownRoll): string {
    return join(destination.root, roll.shootId, roll.recorder, roll.id);
  }

  /** How much of all footage of this run has arrived at a destination, by what its file system has given away. */
  async arrivedFraction(destination: LastingDrive): Promise<number> {
    const wanted = this.plan.recordings
      .flatMap(({ files }) => Object.values(files))
      .reduce((sum, size) => sum + size, 0);
    const used = (await usedBytes(destination.root)) - (this.#usedAtStart.get(destination.name) ?? 0);
    return wanted === 0 ? 1 : used / wanted;
  }

  tell(sentence: string): void {
    this.story.push(`${((performance.now() - this.#begunMs) / 1000).toFixed(3).padStart(8)} s  ${sentence}`);
  }
}

/** Bytes that a file system has given away. */
export async function usedBytes(root: string): Promise<number> {
  const { blocks, bfree, bsize } = await statfs(root);
  return (blocks - bfree) * bsize;
}

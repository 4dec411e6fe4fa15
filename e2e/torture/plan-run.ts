import type { FileSystem } from '../drives/make-drive.ts';
import { type Dice, takeDice } from './dice.ts';
import { FAULT_KINDS, type FaultKind, MOMENTS_OF, type Moment } from './fault-kinds.ts';
import type { Recording } from './studio/recorder-drive.ts';
import { RECORDERS } from './studio/torture-studio.ts';

export interface PlannedStrike {
  readonly kind: FaultKind;
  readonly moment: Moment;
  /** How far the copying is when it strikes, for `while copying`. */
  readonly fraction: number;
  /** How long after the moment, and then how long until it is mended. */
  readonly delayMs: number;
  readonly holdMs: number;
  readonly destination: 'primary' | 'backup';
}

export interface RunPlan {
  readonly seed: number;
  readonly index: number;
  readonly strikes: readonly PlannedStrike[];
  readonly recordings: readonly Recording[];
  /** For whatever is decided on the way. */
  readonly diceSeed: string;
}

export const MIB = 2 ** 20;
/** The file that is large enough to be met in the middle. */
export const CLIP = 'CLIPS/A001.MOV';

/** What one run does, from the seed and its number alone. Every kind comes once in each round of as many runs as there are kinds. */
export function planRun(seed: number, index: number, only: readonly FaultKind[] = FAULT_KINDS): RunPlan {
  const diceSeed = `${seed}/${index}`;
  const dice = takeDice(diceSeed);
  const round = takeDice(`${seed} round ${Math.floor(index / only.length)}`).shuffled(only);
  const kinds = [round[index % only.length] ?? dice.pick(only)];
  // One misfortune seldom comes alone.
  if (dice.happens(0.3)) kinds.push(dice.pick(only));
  const strikes = kinds.map((kind) => planStrike(kind, dice));
  return { seed, index, strikes, recordings: planRecordings(kinds, dice), diceSeed };
}

function planStrike(kind: FaultKind, dice: Dice): PlannedStrike {
  return {
    kind,
    moment: dice.pick(MOMENTS_OF[kind]),
    fraction: dice.between(2, 98) / 100,
    // A bit must flip before the read-back gets there.
    delayMs: kind === 'bit flipped before its read-back' ? 0 : dice.pick([dice.between(0, 60), dice.between(0, 900)]),
    holdMs: dice.pick([dice.between(50, 600), dice.between(600, 4000)]),
    destination: dice.pick(['primary', 'backup'] as const),
  };
}

function planRecordings(kinds: readonly FaultKind[], dice: Dice): readonly Recording[] {
  const needsAll = kinds.includes('all drives vanish');
  const count = needsAll ? RECORDERS.length : dice.pick([1, 1, 1, 2]);
  // A region is found on the drive by its file system, which ext4 tells.
  const needsExt4 = kinds.some((kind) => kind.startsWith('a region'));
  return dice
    .shuffled(RECORDERS)
    .slice(0, count)
    .map((recorder) => {
      const fileSystem: FileSystem = needsExt4 || dice.happens(0.7) ? 'ext4' : 'exfat';
      return { recorder, fileSystem, files: planFiles(dice, count > 2 ? 12 : dice.pick([40, 40, 110])) };
    });
}

function planFiles(dice: Dice, mostMebibytes: number): Readonly<Record<string, number>> {
  const small = Array.from({ length: dice.between(1, 4) }, (_, number) => [
    dice.pick([`CLIPS/B00${number}.MOV`, `PRIVATE/SIDECARS/SUB/t${number}.xml`, `sound ${number}.wav`]),
    dice.pick([0, 1, 4095, 4096, dice.between(2, 70_000), dice.between(100_000, 3 * MIB)]),
  ]);
  // Above 64 MiB an interrupted copy is gone on with, in blocks of 32 MiB.
  const clip = dice.between(mostMebibytes / 2, mostMebibytes) * MIB + dice.pick([0, 1, 511, 4097]);
  return { [CLIP]: clip, ...Object.fromEntries(small) };
}

import { z } from 'zod';
import { Clip } from './clip-facts.ts';
import { FolderName, RecorderRole } from './recorder.ts';

const ShootOfSubject = z.object({ id: FolderName, name: z.string() });

const RollOfSubject = z.object({
  id: FolderName,
  recorder: FolderName,
  role: RecorderRole,
  fileCount: z.number().int().nonnegative(),
  sizeInBytes: z.number().int().nonnegative(),
});

/** Clips that ran together, as a guest's step is told of them: in the order of their recorders, with the group's first timecode. */
const GroupOfSubject = z.object({
  id: z.string(),
  startTimecode: z.string(),
  /** Frames per second. */
  rate: z.object({ numerator: z.number().int().positive(), denominator: z.number().int().positive() }),
  lengthInFrames: z.number().int().nonnegative(),
  members: z.array(
    z.object({
      clipId: z.string(),
      recorder: FolderName,
      /** When the clip's part begins, in frames of the group after the group's start. */
      offsetInFrames: z.number().int().nonnegative(),
      confidence: z.enum(['sure', 'likely', 'weak']),
    }),
  ),
});

/** One clip, its roll and its shoot: what a guest's step of scope `clip` is told. */
export const ClipSubject = z.object({
  kind: z.literal('clip'),
  shoot: ShootOfSubject,
  roll: RollOfSubject,
  clip: Clip,
});
export type ClipSubject = z.output<typeof ClipSubject>;

/** One roll with all clips of it: what a guest's step of scope `roll` is told. */
export const RollSubject = z.object({
  kind: z.literal('roll'),
  shoot: ShootOfSubject,
  roll: RollOfSubject,
  clips: z.array(Clip),
});
export type RollSubject = z.output<typeof RollSubject>;

/** A shoot with those of its rolls that are proven, their clips, and what ran together: for a step of scope `shoot`. */
export const ShootSubject = z.object({
  kind: z.literal('shoot'),
  shoot: ShootOfSubject,
  rolls: z.array(RollOfSubject),
  clips: z.array(Clip),
  groups: z.array(GroupOfSubject),
});
export type ShootSubject = z.output<typeof ShootSubject>;

/** What a run of a guest's step is about. JSON-safe, since it crosses into the guest's process. */
export const StepSubject = z.discriminatedUnion('kind', [ClipSubject, RollSubject, ShootSubject]);
export type StepSubject = z.output<typeof StepSubject>;

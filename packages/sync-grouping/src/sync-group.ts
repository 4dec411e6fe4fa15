import { FolderName, Ratio, RecorderRole } from '@quayside/shoot';
import { z } from 'zod';
import { ExactSeconds } from './exact-seconds.ts';

/** How far a member's place can be trusted: `weak` must be checked by eye and ear before it is cut with. */
export const Confidence = z.enum(['sure', 'likely', 'weak']);
export type Confidence = z.output<typeof Confidence>;

/**
 * What a member's place was made of. `timecode`: its own, as written. `other-rate`: its own, read as counted at another
 * rate. `shifted`: its own, moved by one amount for the whole recorder. `file-times`: the clip's date alone.
 */
export const PlacedBy = z.enum(['timecode', 'other-rate', 'shifted', 'file-times']);
export type PlacedBy = z.output<typeof PlacedBy>;

/** The part of a clip that belongs to a group, in the clip's own units, counted from the clip's first one. */
export const ClipRange = z.object({
  unit: z.enum(['frames', 'samples']),
  /** Units per second. */
  rate: Ratio,
  from: z.number().int().nonnegative(),
  length: z.number().int().nonnegative(),
});
export type ClipRange = z.output<typeof ClipRange>;

/**
 * One clip in a group. The offsets say where its `range` begins after the group's start, never where a longer clip
 * began; they are 0 or more. `offset` is exact, the two others are rounded to the nearest whole.
 */
export const GroupMember = z.object({
  clipId: z.string(),
  recorder: FolderName,
  role: RecorderRole,
  offset: ExactSeconds,
  /** At the group's rate. */
  offsetInFrames: z.number().int().nonnegative(),
  /** At `sampleRate`: the clip's own for a sound file, 48000 for a picture. */
  offsetInSamples: z.number().int().nonnegative(),
  sampleRate: z.number().int().positive(),
  range: ClipRange,
  /** True when the clip runs through several groups and is a member of each with another range. */
  isShared: z.boolean(),
  placedBy: PlacedBy,
  confidence: Confidence,
  /** One sentence: what the place rests on. */
  restsOn: z.string(),
});
export type GroupMember = z.output<typeof GroupMember>;

/** A rate of pictures and how its labels are counted; `name` is a `RateName` of the timecode package. */
export const GroupRate = Ratio.extend({ name: z.string(), isDropFrame: z.boolean() });
export type GroupRate = z.output<typeof GroupRate>;

/**
 * Clips of several recorders that ran at the same time; a take that one recorder holds alone is a group of one. Its
 * range is that of its pictures: sound is cut to it. Members are sorted by offset, recorder and clip.
 */
export const SyncGroup = z.object({
  /** Stays when clips join or leave, if the earlier groups are handed in. Lower-case letters, digits and hyphens. */
  id: z.string().regex(/^[a-z0-9-]+$/),
  /** The date that the group's first clip says it was recorded on. `isCertain` when the date names its zone. */
  day: z.object({ date: z.iso.date(), isCertain: z.boolean() }),
  rate: GroupRate,
  /** `assumed` when no picture and no sound file names a rate. */
  rateFrom: z.enum(['pictures', 'sound', 'shoot', 'assumed']),
  start: z.object({
    /** Frames since 00:00:00:00 at the group's rate, within the day. */
    count: z.number().int().nonnegative(),
    timecode: z.string(),
    /** Real seconds since the label 00:00:00:00. A day of labels may be longer than 86400 s. */
    secondsOfDay: ExactSeconds,
  }),
  lengthInFrames: z.number().int().nonnegative(),
  members: z.array(GroupMember).min(1),
});
export type SyncGroup = z.output<typeof SyncGroup>;

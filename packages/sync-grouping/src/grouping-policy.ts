import { FolderName } from '@quayside/shoot';
import { z } from 'zod';

/** How clips are grouped and when something is worth a finding. `GroupingPolicy.parse({})` gives the defaults. */
export const GroupingPolicy = z.object({
  /** Clips that begin within this many frames of each other were started by one trigger, however short they are. */
  triggerToleranceFrames: z.number().int().nonnegative().default(2),
  /** How late a follower may start or stop and still be in order. Larger hides late starts, smaller tells of slow recorders. */
  followerFrames: z.number().int().nonnegative().default(12),
  /** With as many recorders stopped as running on, a pause up to this long is a restart within one take. */
  restartPauseSeconds: z.number().nonnegative().default(60),
  /** A recorder whose clock against the file dates jumps by this much or more has begun another day. */
  nightHours: z.number().min(1).max(20).default(9),
  /** A recorder in fewer of a day's takes than this share is an occasional guest: the takes without it are in order. */
  occasionalShare: z.number().min(0).max(1).default(0.25),
  /** Recorders that must be in every take, whatever has arrived of them. */
  expectedRecorders: z.array(FolderName).default([]),
  /** Sample rates that are in order, in Hz. */
  sampleRates: z.array(z.number().int().positive()).default([48_000, 96_000]),
});
export type GroupingPolicy = z.output<typeof GroupingPolicy>;

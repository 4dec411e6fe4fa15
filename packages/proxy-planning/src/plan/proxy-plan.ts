import { FolderName, PictureFacts, Ratio, SoundFacts } from '@quayside/shoot';
import { z } from 'zod';
import { BasedEstimate, Estimate } from '../estimates/estimate.ts';
import { ProxyCodec } from '../policy/proxy-policy.ts';

/** A proxy as it is to be made. Everything that tells time is the original's: rate, frames, first timecode, sound channels. */
export const ProxyTarget = z.object({
  codec: ProxyCodec,
  /** For h264: megabits (10^6) in a second; null for codecs that decide themselves. */
  megabits: z.number().positive().nullable(),
  width: z.number().int().positive(),
  height: z.number().int().positive(),
  pixelAspect: Ratio,
  isExactAspect: z.boolean(),
  scan: PictureFacts.shape.scan,
  rate: Ratio,
  /** The frames of a clip of changing rate keep their own times. */
  isVariableRate: z.boolean(),
  frameCount: z.number().int().positive(),
  startTimecode: z.string().nullable(),
  /** The sound tracks in the original's order, uncompressed. */
  sound: z.array(
    SoundFacts.pick({ channels: true }).extend({
      sampleRate: z.number().int().positive(),
      bitDepth: z.literal([16, 24]),
    }),
  ),
});
export type ProxyTarget = z.output<typeof ProxyTarget>;

const Reasoned = z.object({
  clipId: z.string(),
  recorder: FolderName,
  path: z.string(),
  /** The most urgent sync group that it is in, by which it is ordered, or null. */
  groupId: z.string().nullable(),
  /** One sentence. */
  why: z.string(),
});

const WithProxy = Reasoned.extend({
  /** The rule that asks for it. */
  rule: z.string(),
  proxy: ProxyTarget,
  bytes: BasedEstimate,
  /** Of work on this machine, without waiting. */
  seconds: BasedEstimate,
});

/**
 * What a plan says of one clip. `planned`: a proxy is made. `left-out`: it should get one, and there is no room. `not-needed`:
 * it is edited as it is. `impossible`: it should get one, and what is known of it does not allow for it.
 */
export const ClipPlan = z.discriminatedUnion('state', [
  WithProxy.extend({ state: z.literal('planned') }),
  WithProxy.extend({ state: z.literal('left-out') }),
  Reasoned.extend({ state: z.literal('not-needed'), rule: z.string().nullable() }),
  Reasoned.extend({ state: z.literal('impossible'), rule: z.string().nullable() }),
]);
export type ClipPlan = z.output<typeof ClipPlan>;
export type ClipWithProxy = Extract<ClipPlan, { state: 'planned' | 'left-out' }>;

const Share = z.object({ count: z.number().int().nonnegative(), bytes: Estimate, seconds: Estimate });

export const PlanTotals = z.object({
  planned: Share,
  leftOut: Share,
  notNeededCount: z.number().int().nonnegative(),
  impossibleCount: z.number().int().nonnegative(),
});
export type PlanTotals = z.output<typeof PlanTotals>;

/** The room that proxies may take, and who says so. */
export const PlanBudget = z.object({
  bytes: z.number().int().nonnegative(),
  setBy: z.enum(['policy', 'free space']),
  /** Where the free space is. */
  place: z.string().nullable(),
});
export type PlanBudget = z.output<typeof PlanBudget>;

/**
 * The proxies of a shoot. Clips stand in the order in which the work should be done: planned ones first, then those left out,
 * then the others by id. `budget` is null when nothing limits it; the upper ends of the planned bytes never exceed it.
 */
export const ProxyPlan = z.object({
  clips: z.array(ClipPlan),
  totals: PlanTotals,
  budget: PlanBudget.nullable(),
});
export type ProxyPlan = z.output<typeof ProxyPlan>;

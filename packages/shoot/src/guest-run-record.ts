import { z } from 'zod';
import { Failure } from './failure.ts';
import { Finding } from './finding.ts';
import { Instant } from './instant.ts';
import { Grant, GuestStepName, PluginDescription } from './plugin-description.ts';
import { FolderName } from './recorder.ts';
import { RunLog } from './run-log.ts';

/** Where a run of a guest's step stands. `waiting`: not made yet; `why` says what for. */
export const GuestRunState = z.enum(['waiting', 'running', 'done', 'skipped', 'failed', 'cancelled']);
export type GuestRunState = z.output<typeof GuestRunState>;

/** The last run of a step on a subject, without what is long: what lists show, and what decides whether it runs again. */
export const GuestRunSummary = z.object({
  id: z.string().regex(/^[0-9a-f]{16}$/),
  step: GuestStepName,
  version: z.string(),
  subject: z.object({ kind: z.enum(['clip', 'roll', 'shoot']), id: z.string() }),
  shootId: FolderName,
  rollId: FolderName.nullable(),
  state: GuestRunState,
  /** Why it was made, or is not made, in one sentence. */
  why: z.string(),
  /** What it was made from, a digest of each part. */
  fingerprint: z.object({ version: z.string(), config: z.string(), subject: z.string(), outputs: z.string() }),
  tries: z.number().int().nonnegative(),
  failure: Failure.nullable(),
  /** Digest of the output; empty without one. */
  outputDigest: z.string(),
  findings: z.array(Finding),
  /**
   * The folder below a destination's root that holds what the run left: at one destination, and alike at those that have a
   * proven copy of it. Null when it left nothing.
   */
  filed: z.object({ destination: z.string(), folder: z.string(), alsoAt: z.array(z.string()) }).nullable(),
  /**
   * What a run that is under way last told of itself, and whether it stands still at this moment; null before that, and when
   * it is over.
   */
  progress: z
    .object({
      fraction: z.number().min(0).max(1),
      text: z.string().nullable(),
      secondsLeft: z.number().nonnegative().nullable(),
      isHeldUp: z.boolean().optional(),
    })
    .nullable(),
  startedAt: Instant.nullable(),
  endedAt: Instant.nullable(),
  tookMs: z.number().int().nonnegative().nullable(),
  /** For how much of that it was held up, since drives were being taken in; absent when it was not. */
  heldUpMs: z.number().int().positive().optional(),
  /** Whether it was found on record beside the footage by a service that had not made it. */
  isRecognised: z.boolean().optional(),
});
export type GuestRunSummary = z.output<typeof GuestRunSummary>;

/** The same with its output, its files and its log. */
export const GuestRunRecord = GuestRunSummary.extend({
  output: z.json(),
  /** `xxh128` is the digest of what was filed, which every further copy is held against. */
  files: z.array(z.object({ path: z.string(), sizeInBytes: z.number().int().nonnegative(), xxh128: z.string() })),
  log: RunLog,
});
export type GuestRunRecord = z.output<typeof GuestRunRecord>;

/** A step that waits on a subject: what for, in one sentence, and from when it may go on where that is known. */
export const GuestWait = GuestRunSummary.pick({
  id: true,
  step: true,
  version: true,
  subject: true,
  rollId: true,
}).extend({
  why: z.string(),
  notBefore: Instant.nullable(),
});
export type GuestWait = z.output<typeof GuestWait>;

/** A plugin of the configuration and what became of it: `failure` says why it is left out. */
export const PluginStanding = z.object({
  use: z.string(),
  isOn: z.boolean(),
  grants: z.array(Grant),
  plugin: PluginDescription.nullable(),
  failure: Failure.nullable(),
});
export type PluginStanding = z.output<typeof PluginStanding>;

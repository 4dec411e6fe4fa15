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
  /** The destination and the folder below its root that hold what the run left, or null when it left nothing. */
  filed: z.object({ destination: z.string(), folder: z.string() }).nullable(),
  startedAt: Instant.nullable(),
  endedAt: Instant.nullable(),
  tookMs: z.number().int().nonnegative().nullable(),
});
export type GuestRunSummary = z.output<typeof GuestRunSummary>;

/** The same with its output, its files and its log. */
export const GuestRunRecord = GuestRunSummary.extend({
  output: z.json(),
  files: z.array(z.object({ path: z.string(), sizeInBytes: z.number().int().nonnegative() })),
  log: RunLog,
});
export type GuestRunRecord = z.output<typeof GuestRunRecord>;

/** A plugin of the configuration and what became of it: `failure` says why it is left out. */
export const PluginStanding = z.object({
  use: z.string(),
  isOn: z.boolean(),
  grants: z.array(Grant),
  plugin: PluginDescription.nullable(),
  failure: Failure.nullable(),
});
export type PluginStanding = z.output<typeof PluginStanding>;

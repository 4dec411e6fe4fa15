import { Failure, Instant } from '@quayside/shoot';
import { z } from 'zod';

/** One thing in which the view and the records beside the footage do not agree, in a sentence for the operator. */
export const Difference = z.object({
  kind: z.enum(['not-in-view', 'not-on-record', 'differs']),
  sentence: z.string(),
});
export type Difference = z.output<typeof Difference>;

const Count = z.number().int().nonnegative();

/** What a remaking of the view found and did. Rolls that agree are only counted. */
export const RebuildReport = z.object({
  /** One sentence over all. */
  sentence: z.string(),
  onRecord: Count,
  inView: Count,
  /** Of those in the view, the ones of which nothing is sealed yet, so that no record of them is wanted. */
  unsealed: Count,
  /** Destinations whose records could not be read, and why: what they hold is compared with nothing. */
  unread: z.array(z.object({ destination: z.string(), why: z.string() })),
  rolls: z.array(
    z.object({
      rollId: z.string(),
      shootId: z.string(),
      differences: z.array(Difference).min(1),
      tookOver: z.boolean(),
      /** What was done about it, or what is to be done. */
      outcome: z.string(),
    }),
  ),
});
export type RebuildReport = z.output<typeof RebuildReport>;

/** A remaking of the view that somebody asked for, of all shoots or of one. The worker makes it. */
export const Rebuild = z.object({
  id: z.string(),
  shootId: z.string().nullable(),
  askedAt: Instant,
  state: z.enum(['waiting', 'running', 'done', 'failed']),
  endedAt: Instant.nullable(),
  /** Once it is done. */
  report: RebuildReport.nullable(),
  /** Why it failed. */
  failure: Failure.nullable(),
});
export type Rebuild = z.output<typeof Rebuild>;

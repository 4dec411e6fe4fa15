import {
  Clearance,
  type CopyState,
  Failure,
  Finding,
  Instant,
  RecorderRole,
  Reread,
  RollActivity,
  RollDestination,
} from '@quayside/shoot';
import { z } from 'zod';

const Count = z.int().nonnegative();

/** How far a roll is at one destination. */
export const DestinationAnswer = z.object({
  standing: RollDestination.shape.standing,
  failure: Failure.nullable().describe('Why it is skipped or could not be sealed, or null.'),
  sealedGeneration: z
    .int()
    .positive()
    .nullable()
    .describe('The manifest generation that covers the roll, or null while it is not sealed.'),
  parcels: z
    .object({ absent: Count, writing: Count, written: Count, verified: Count, failed: Count } satisfies Record<
      CopyState,
      typeof Count
    >)
    .describe('Parcels (a large file, or neighbouring small ones) by the state of their copy.'),
  verifiedFiles: Count,
  verifiedBytes: Count,
  readBackAt: Instant.nullable().describe('Since when everything proven there has been read back, or null.'),
  reread: Reread.nullable().describe('The last time that it was read again, or is being read; null when never.'),
});
export type DestinationAnswer = z.output<typeof DestinationAnswer>;

/** A roll as lists show it: what it is doing, how far it is, and above all the verdict. */
export const RollAnswer = z.object({
  id: z.string(),
  shootId: z.string(),
  movingTo: z.string().nullable(),
  recorder: z.string(),
  role: RecorderRole,
  volume: z.object({ key: z.string(), label: z.string().nullable(), fileSystem: z.string() }),
  drivePresent: z.boolean(),
  mountPath: z.string().nullable(),
  activity: RollActivity,
  visit: z.int().positive(),
  fileCount: Count,
  sizeInBytes: Count,
  litterCount: Count,
  progress: z.object({
    totalBytes: Count,
    fraction: z
      .number()
      .min(0)
      .max(1)
      .describe('Share of all work: each byte is written and read back at each destination.'),
    bytesPerSecond: z.number().nonnegative(),
    secondsLeft: z.number().nonnegative().nullable().describe('At the present rate, or null when nothing moves.'),
  }),
  clearance: Clearance.describe('May the drive be recorded over? Only `clear` means yes.'),
  judgementPending: z.boolean().describe('True while a newer verdict is on its way.'),
  destinations: z.record(z.string(), DestinationAnswer),
  findingCount: Count,
  openedAt: Instant,
  changedAt: Instant,
});
export type RollAnswer = z.output<typeof RollAnswer>;

/** Everything about one roll except its files, which `/v1/rolls/{id}/copies` pages through. */
export const RollDetail = RollAnswer.extend({
  fingerprint: z.string(),
  parcelCount: Count,
  failures: z
    .array(
      z.object({
        destination: z.string(),
        parcel: Count,
        firstPath: z.string(),
        fileCount: Count,
        step: z.enum(['ingest', 'checksum']),
        run: z.string().describe('For `POST /v1/runs/{run}/retry`.'),
        failure: Failure,
      }),
    )
    .describe('The parcels whose last try failed; a retry takes them up again.'),
  findings: z.array(Finding),
});
export type RollDetail = z.output<typeof RollDetail>;

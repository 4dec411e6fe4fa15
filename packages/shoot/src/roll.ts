import { z } from 'zod';
import { Clearance } from './clearance.ts';
import { CopyState } from './copy.ts';
import { Failure } from './failure.ts';
import { Finding } from './finding.ts';
import { Instant } from './instant.ts';
import { FolderName, RecorderRole } from './recorder.ts';
import { Mount, VolumeIdentity } from './volume.ts';

/** The copies of one parcel at one destination, taken together. `failed` means that at least one of its files failed. */
export const ParcelCopy = z.object({
  state: CopyState,
  /** Raised by each retry, so that a new run has a new identity. */
  attempt: z.number().int().nonnegative(),
  /** What failed last, for the operator. Stays until the copy gets further. */
  failure: Failure.nullable(),
  /** The step that found it failed: reading the source, or reading the copy back. Nothing while it has not failed. */
  failedIn: z.enum(['ingest', 'checksum']).nullable().optional(),
  /** How often a bad copy was made anew without anybody asking, since a person last asked. */
  repairs: z.number().int().nonnegative().default(0),
  /** Bytes of a copy that was broken off, which lie durably at the destination to be gone on with. */
  partBytes: z.number().int().nonnegative().default(0),
});
export type ParcelCopy = z.output<typeof ParcelCopy>;

/**
 * The files that are copied in one run: one large file, or neighbours that are small. It keeps the queue's share of the
 * work small with ten thousand small files, and the state of a roll short.
 */
export const Parcel = z.object({
  index: z.number().int().nonnegative(),
  firstPath: z.string(),
  fileCount: z.number().int().positive(),
  sizeInBytes: z.number().int().nonnegative(),
  copies: z.record(z.string(), ParcelCopy),
});
export type Parcel = z.output<typeof Parcel>;

/** A reading again of everything that a roll has at one destination, long after it was proven: the last one, or the one under way. */
export const Reread = z.object({
  /** When it began. What has been read back since then is not read again. */
  since: Instant,
  /** The parcel from which on it is still to be done. */
  next: z.number().int().nonnegative(),
  /** Files that it found bad or gone. */
  badFiles: z.number().int().nonnegative(),
  /** Null while it goes on. */
  endedAt: Instant.nullable(),
  /** The generation of the manifest that says what it found; null when there is none. */
  generation: z.number().int().positive().nullable(),
  /** Why it was given up, or null. */
  failure: Failure.nullable(),
});
export type Reread = z.output<typeof Reread>;

/** What a roll has at one destination beyond its copies. */
export const RollDestination = z.object({
  /** `skipped`: it takes nothing of this roll (does not fit, is not there). Clearance then says why it holds. */
  standing: z.enum(['taking', 'skipped']),
  failure: Failure.nullable(),
  /** The generation of the manifest that covers all parcels of this visit, or null. */
  sealedGeneration: z.number().int().positive().nullable(),
  sealAttempt: z.number().int().nonnegative(),
  /** Everything proven there has been read back from the medium since this moment; null when nobody knows. */
  readBackAt: Instant.nullable().default(null),
  reread: Reread.nullable().default(null),
});
export type RollDestination = z.output<typeof RollDestination>;

/**
 * How far the facts of a roll's clips are known. `due`: they are being read and copying waits for them, a few seconds at
 * most; `placing`: they are read, and copying waits for a moment until it is known which clips ran together; `partly`: they
 * are being read beside the copying; `read`: all that could be read is.
 */
export const RollFacts = z.enum(['due', 'placing', 'partly', 'read']);
export type RollFacts = z.output<typeof RollFacts>;

export const RollActivity = z.enum(['waiting', 'copying', 'verifying', 'sealing', 'judging', 'interrupted', 'resting']);
export type RollActivity = z.output<typeof RollActivity>;

/** What one volume held on one visit. Everything that decides about it is in here; the files' details lie beside it. */
export const Roll = z.object({
  id: FolderName,
  shootId: FolderName,
  /** Set while the roll moves to another shoot; no copying happens until it has moved. */
  movingTo: FolderName.nullable(),
  recorder: FolderName,
  role: RecorderRole,
  volume: VolumeIdentity,
  /** Null while the volume is away. */
  mount: Mount.nullable(),
  /** Raised each time the volume settles with a listing that is not the one before. */
  visit: z.number().int().positive(),
  /** True once a manifest of it was written anywhere: from then on it stays in its shoot. */
  wasSealed: z.boolean(),
  /** Digest of the listing (paths, sizes, times) that this visit's parcels were made from. */
  fingerprint: z.string(),
  fileCount: z.number().int().nonnegative(),
  sizeInBytes: z.number().int().nonnegative(),
  litterCount: z.number().int().nonnegative(),
  parcels: z.array(Parcel),
  facts: RollFacts,
  /** Indexes of parcels in the order in which they are wanted; those that are not named follow in their own order. */
  order: z.array(z.number().int().nonnegative()),
  destinations: z.record(z.string(), RollDestination),
  /** How often a bad copy is made anew by itself before the roll holds for a person. */
  repairLimit: z.number().int().nonnegative().default(2),
  findings: z.array(Finding),
  clearance: Clearance,
  /**
   * When its drive, which has left since, was judged clear, while a copy that turned out bad after that is made anew: then it is
   * judged again without the drive. Null otherwise.
   */
  clearedAt: Instant.nullable().default(null),
  /** Raised when something happened that the standing verdict does not know of; a judgement is due while it exceeds `judged`. */
  judgementDue: z.number().int().nonnegative(),
  judged: z.number().int().nonnegative(),
  /** The matter that people were last told of this roll, or null. */
  told: z.string().nullable(),
  /** How often its drive has left, or fallen silent. */
  absences: z.number().int().nonnegative().default(0),
  openedAt: Instant,
  changedAt: Instant,
});
export type Roll = z.output<typeof Roll>;

/** Where a roll lies below each destination's root. */
export function rollFolder(roll: Pick<Roll, 'shootId' | 'recorder' | 'id'>): string {
  return `${roll.shootId}/${roll.recorder}/${roll.id}`;
}

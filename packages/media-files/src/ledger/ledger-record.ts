import { Digests, ReadBackMethod } from '@quayside/shoot';
import { z } from 'zod';

const Written = z.object({
  kind: z.literal('written'),
  path: z.string(),
  storedPath: z.string(),
  sizeInBytes: z.number().int().nonnegative(),
  modifiedMs: z.number(),
  digests: Digests,
  /** 2 when the source was read a second time and gave the same. */
  reads: z.literal(2).optional(),
  at: z.iso.datetime(),
});

const Verified = z.object({
  kind: z.literal('verified'),
  path: z.string(),
  storedPath: z.string(),
  digests: Digests,
  method: ReadBackMethod,
  /** The stored file's own times when it was read back: while they stand, nobody has written to it since. */
  storedTimes: z.object({ modifiedMs: z.number(), changedMs: z.number() }),
  at: z.iso.datetime(),
});

/** What a stored file was found to be, where it could be read to its end. */
const FoundCopy = z.object({ sizeInBytes: z.number().int().nonnegative(), modifiedMs: z.number(), digests: Digests });
export type FoundCopy = z.output<typeof FoundCopy>;

const Failed = z.object({
  kind: z.literal('failed'),
  path: z.string(),
  storedPath: z.string(),
  code: z.string(),
  sentence: z.string(),
  found: FoundCopy.optional(),
  at: z.iso.datetime(),
});

/** One line of a ledger about one file. Later lines supersede earlier ones. */
export const LedgerRecord = z.discriminatedUnion('kind', [Written, Verified, Failed]);
export type LedgerRecord = z.output<typeof LedgerRecord>;
export type StoredTimes = z.output<typeof Verified>['storedTimes'];

/** The line that says which roll the ledger is about; the rest of it is the caller's. */
export const LedgerHeader = z.looseObject({ kind: z.literal('roll') });

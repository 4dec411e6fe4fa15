import { z } from 'zod';
import { Digests } from './hash-algorithm.ts';

/** The life of one file at one destination. Only `verified` counts for clearance. */
export const CopyState = z.enum(['absent', 'writing', 'written', 'verified', 'failed']);
export type CopyState = z.output<typeof CopyState>;

/**
 * How a read-back reached the medium.
 * `direct`: direct I/O, past the page cache. `dropped`: the cached pages were dropped first, then read. `cached`: neither
 * was possible, so the bytes may have come from memory: a state of its own, never a silent pass.
 */
export const ReadBackMethod = z.enum(['direct', 'dropped', 'cached']);
export type ReadBackMethod = z.output<typeof ReadBackMethod>;

/** What is known of one file at one destination. `storedPath` is relative to the roll's folder there. */
export const Copy = z.discriminatedUnion('state', [
  z.object({ state: z.literal('absent') }),
  z.object({ state: z.literal('writing') }),
  z.object({ state: z.literal('written'), storedPath: z.string(), digests: Digests }),
  z.object({
    state: z.literal('verified'),
    storedPath: z.string(),
    digests: Digests,
    method: ReadBackMethod,
  }),
  z.object({ state: z.literal('failed'), code: z.string(), why: z.string() }),
]);
export type Copy = z.output<typeof Copy>;

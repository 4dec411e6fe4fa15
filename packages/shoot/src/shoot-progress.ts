import { z } from 'zod';
import { Failure } from './failure.ts';
import { Instant } from './instant.ts';

/** The steps that work over a whole shoot. */
export const ShootStep = z.enum(['sync-grouping', 'proxy-planning', 'records']);
export type ShootStep = z.output<typeof ShootStep>;

/** What has been worked out for a shoot so far, by the state that it was worked out from. Null: nothing yet. */
export const ShootProgress = z.object({
  /** The state of the rolls' facts that the sync groups were made from. */
  grouped: z.string().nullable(),
  /** The state of groups and seals that the records beside the footage were written from. */
  recorded: z.string().nullable(),
  /** The groups and the policy that the plan of proxies was made with. */
  planned: z.string().nullable(),
  /** The policy that plans of proxies are to be made with, as one text; null while none are wanted. The same for all shoots. */
  planning: z.string().nullable(),
  /** How many rolls it had when it was last told to be complete. */
  completed: z.string().nullable(),
  /** Raised by each proxy that is filed, so that the records name it. */
  proxies: z.number().int().nonnegative(),
  /** What the plugins' runs have given once none of the shoot was under way, as one text; empty while that is nothing. */
  guests: z.string(),
  /** Raised by each acknowledgement and each new name, so that the records are written again. */
  acknowledgements: z.number().int().nonnegative(),
  /** The steps that failed for good the last time that they were made. They rest, until somebody asks or some minutes have passed. */
  failed: z.partialRecord(ShootStep, Failure).optional(),
});
export type ShootProgress = z.output<typeof ShootProgress>;

/** That a person has seen a finding, and what they say about it. It stays when the finding is worked out again. */
export const Acknowledgement = z.object({
  /** The finding's matter, as `matterOf` gives it. */
  matter: z.string(),
  note: z.string().max(2000),
  by: z.string().max(200),
  at: Instant,
});
export type Acknowledgement = z.output<typeof Acknowledgement>;

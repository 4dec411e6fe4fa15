import { Instant } from '@quayside/shoot';
import { z } from 'zod';

/** One change that somebody asked for: who, when, what, and how it was answered. */
export const AuditEntry = z.object({
  at: Instant,
  /** Who says that they asked: the `Quayside-Operator` header, else `unnamed`. Whoever holds the token may write any name. */
  by: z.string(),
  /** Method and path. */
  action: z.string(),
  body: z.unknown().describe('What was sent with it, as JSON.'),
  status: z.number().int(),
});
export type AuditEntry = z.output<typeof AuditEntry>;

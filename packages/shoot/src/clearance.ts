import { z } from 'zod';
import { Instant } from './instant.ts';

/** One reason why a roll is held. `sentence` says what, where and what to do, for the operator. */
export const HoldReason = z.object({
  code: z.string().regex(/^[A-Z][A-Z0-9_]*$/),
  sentence: z.string(),
  destination: z.string().optional(),
  path: z.string().optional(),
});
export type HoldReason = z.output<typeof HoldReason>;

/** The verdict on a roll: may its drive be recorded over? `clear` has no reasons; `hold` has at least one. */
export const Clearance = z.discriminatedUnion('verdict', [
  z.object({ verdict: z.literal('clear'), judgedAt: Instant, cautions: z.array(z.string()) }),
  z.object({ verdict: z.literal('hold'), judgedAt: Instant, reasons: z.array(HoldReason).min(1) }),
]);
export type Clearance = z.output<typeof Clearance>;

import { ClipPlan, PlanBudget, PlanDifference, PlanTotals } from '@quayside/proxy-planning';
import { Instant } from '@quayside/shoot';
import { z } from 'zod';

/** The plan of a shoot's proxies, a page of its clips at a time. */
export const ProxiesAnswer = z.object({
  plannedAt: Instant.nullable().describe(
    'Null while no plan was made: nothing is known of the clips yet, or none is wanted.',
  ),
  isCurrent: z.boolean().describe('False while newer groups or another policy are still being planned with.'),
  totals: PlanTotals.nullable(),
  budget: PlanBudget.nullable(),
  changes: z.array(PlanDifference).describe('What the plan says otherwise than the one before it.'),
  clips: z.array(ClipPlan).describe('In the order of the work; then those left out, and those that need none.'),
  next: z.string().nullable(),
});
export type ProxiesAnswer = z.output<typeof ProxiesAnswer>;

import { Instant } from '@quayside/shoot';
import { z } from 'zod';
import { PlanDifference } from './plan-differences.ts';
import { ProxyPlan } from './proxy-plan.ts';

/** A plan as it is kept: when it was made, and what it says otherwise than the one before it. */
export const PlanOnRecord = z.object({
  plannedAt: Instant,
  changes: z.array(PlanDifference),
  plan: ProxyPlan,
});
export type PlanOnRecord = z.output<typeof PlanOnRecord>;

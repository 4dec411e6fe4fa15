import {
  ClipPlan,
  ClipRendering,
  PlanBudget,
  PlanDifference,
  PlanStanding,
  PlanTotals,
} from '@quayside/proxy-planning';
import { Instant } from '@quayside/shoot';
import { z } from 'zod';

const RENDERING = { rendering: ClipRendering };

/** A clip's part of the plan, and how far its proxy is. */
export const PlannedClip = z.discriminatedUnion('state', [
  ClipPlan.options[0].extend(RENDERING),
  ClipPlan.options[1].extend(RENDERING),
  ClipPlan.options[2].extend(RENDERING),
  ClipPlan.options[3].extend(RENDERING),
]);
export type PlannedClip = z.output<typeof PlannedClip>;

/** The plan of a shoot's proxies, a page of its clips at a time. */
export const ProxiesAnswer = z.object({
  plannedAt: Instant.nullable().describe(
    'Null while no plan was made: nothing is known of the clips yet, or none is wanted.',
  ),
  isCurrent: z.boolean().describe('False while newer groups or another policy are still being planned with.'),
  totals: PlanTotals.nullable(),
  budget: PlanBudget.nullable(),
  changes: z.array(PlanDifference).describe('What the plan says otherwise than the one before it.'),
  standing: PlanStanding.nullable().describe('Whether proxies may be made, and who said so; null without a plan.'),
  made: z
    .object({
      count: z.int(),
      bytes: z.number(),
      seconds: z.number(),
      predicted: z.object({ bytes: z.number(), seconds: z.number() }),
    })
    .describe('What the proxies came to that are made, beside what the plan had said of the same ones.'),
  clips: z.array(PlannedClip).describe('In the order of the work; then those left out, and those that need none.'),
  next: z.string().nullable(),
});
export type ProxiesAnswer = z.output<typeof ProxiesAnswer>;

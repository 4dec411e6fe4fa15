import {
  MeasuredProxy,
  planDifferences,
  PlanOnRecord,
  planProxies,
  ProxyPolicy,
  type GroupToPlan,
} from '@quayside/proxy-planning';
import { FolderName } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { completeGroups, GroupingResult } from '@quayside/sync-grouping';
import { z } from 'zod';

/**
 * Plans the proxies of a shoot from its clips, its groups and the free space, and says what differs from the plan before.
 * `planState` says which state of groups and policy the plan is of.
 */
export const proxyPlanning = defineStep({
  name: 'proxy-planning',
  scope: 'shoot',
  after: ['sync-grouping'],
  needs: ['shoots'],
  config: ProxyPolicy,
  input: z.object({ shootId: FolderName }),
  output: z.object({ planState: z.string(), planned: PlanOnRecord }),
  async run({ config, input: { shootId }, context }) {
    const { clips, grouping, planState, proxyPlan } = await context.shoots.material(shootId);
    const space = await context.shoots.roomForProxies();
    const measured = z.array(MeasuredProxy).safeParse(await context.shoots.measuredProxies()).data ?? [];
    const plan = planProxies(clips, config, { groups: groupsToPlan(grouping), measured, space });
    // What an older version kept in another shape is no plan to compare with.
    const before = PlanOnRecord.safeParse(proxyPlan).data ?? null;
    const changes = before === null ? [] : [...planDifferences(before.plan, plan)];
    return { planState, planned: { plannedAt: new Date().toISOString(), changes, plan } };
  },
});

function groupsToPlan(kept: unknown): readonly GroupToPlan[] {
  const grouping = GroupingResult.safeParse(kept).data;
  if (grouping === undefined) return [];
  const complete = completeGroups(grouping);
  return grouping.groups.map(({ id, members }) => ({
    id,
    clipIds: members.map(({ clipId }) => clipId),
    isComplete: complete.has(id),
  }));
}

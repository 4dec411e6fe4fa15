import { FolderName } from '@quayside/shoot';
import { defineStep } from '@quayside/step-sdk/built-in';
import { groupBySync, GroupingPolicy, GroupingResult } from '@quayside/sync-grouping';
import { z } from 'zod';
import { lastGrouping } from './last-grouping.ts';

/**
 * Works out the sync groups and findings of a shoot from all that is known of its clips. Groups keep their identity when a
 * roll arrives later. `factsState` says which state of the facts the answer is of.
 */
export const syncGrouping = defineStep({
  name: 'sync-grouping',
  scope: 'shoot',
  after: ['probe'],
  needs: ['shoots'],
  config: GroupingPolicy,
  input: z.object({ shootId: FolderName }),
  output: z.object({ factsState: z.string(), grouping: GroupingResult }),
  async run({ config, input: { shootId }, context }) {
    const { clips, factsState, grouping } = await context.shoots.material(shootId);
    const day = /^\d{4}-\d{2}-\d{2}$/.test(shootId) ? [shootId] : undefined;
    return {
      factsState,
      grouping: groupBySync(clips, config, {
        shootId,
        at: new Date().toISOString(),
        previous: lastGrouping(grouping)?.groups ?? [],
        ...(day === undefined ? {} : { shootDays: day }),
      }),
    };
  },
});

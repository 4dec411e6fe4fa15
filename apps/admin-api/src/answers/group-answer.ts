import { SyncGroup } from '@quayside/sync-grouping';
import { z } from 'zod';

/** A sync group, and where it can be edited from now. */
export const GroupAnswer = SyncGroup.extend({
  editableAt: z
    .array(z.string())
    .describe('Destinations at which every clip of the group has a copy that was read back and proven.'),
  unproven: z
    .record(z.string(), z.int().positive())
    .describe('By destination: how many of its clips have no proven copy there yet.'),
});
export type GroupAnswer = z.output<typeof GroupAnswer>;

import { definePlugin } from '@quayside/step-sdk/built-in';
import { records } from './records.ts';
import { syncGrouping } from './sync-grouping.ts';

/** Lines the clips of a shoot up in sync groups, and writes what came of it beside the footage. */
export const syncGroupingPlugin = definePlugin({
  name: 'sync-grouping',
  version: '1',
  steps: [syncGrouping, records],
});

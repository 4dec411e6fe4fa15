import { GroupingResult } from '@quayside/sync-grouping';

/** What was worked out last time, or null; also when it was kept by a version that wrote it otherwise. */
export function lastGrouping(kept: unknown): GroupingResult | null {
  return GroupingResult.safeParse(kept).data ?? null;
}

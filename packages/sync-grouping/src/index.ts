export { ExactSeconds } from './exact-seconds.ts';
export { completeGroups } from './findings/complete-groups.ts';
export { type FindingEntry, GROUPING_FINDINGS, type GroupingFindingCode } from './findings/grouping-findings.ts';
export { groupBySync } from './group-by-sync.ts';
export { GroupingPolicy } from './grouping-policy.ts';
export {
  type GroupingContext,
  GroupingFinding,
  GroupingResult,
  UngroupedClip,
  UngroupedCode,
} from './grouping-result.ts';
export { ClipRange, Confidence, GroupMember, GroupRate, PlacedBy, SyncGroup } from './sync-group.ts';

import type { GroupingResult } from '../grouping-result.ts';
import type { GroupingFindingCode } from './grouping-findings.ts';

const INCOMPLETE: ReadonlySet<string> = new Set<GroupingFindingCode>([
  'RECORDER_MISSING_FROM_TAKE',
  'TAKE_ON_ONE_RECORDER',
]);

/** The ids of the groups that every recorder that should be in them is in. */
export function completeGroups({ groups, findings }: Pick<GroupingResult, 'groups' | 'findings'>): ReadonlySet<string> {
  const incomplete = new Set(findings.filter(({ code }) => INCOMPLETE.has(code)).map(({ groupId }) => groupId));
  return new Set(groups.map(({ id }) => id).filter((id) => !incomplete.has(id)));
}

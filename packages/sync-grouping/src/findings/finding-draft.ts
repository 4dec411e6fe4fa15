import type { Severity } from '@quayside/shoot';
import type { GroupingContext, GroupingFinding } from '../grouping-result.ts';
import { compareText } from '../in-order.ts';
import { GROUPING_FINDINGS, type GroupingFindingCode } from './grouping-findings.ts';

/** A finding before it is dated: what it is about and why. */
export interface FindingDraft {
  readonly code: GroupingFindingCode;
  readonly why: string;
  readonly recorder: string | null;
  readonly groupId: string | null;
  readonly clipIds: readonly string[];
  /** A matter of this one clip; else of the shoot, told apart by group, recorder and `detail`. */
  readonly clipId?: string;
  readonly detail?: string;
  /** Where this one is less or more grave than its code usually is. */
  readonly severity?: Severity;
}

const SEVERITIES: readonly Severity[] = ['critical', 'warning', 'info'];

/** The findings for the shoot's records, the gravest first; independent of the order of the drafts. */
export function finishFindings(drafts: readonly FindingDraft[], context: GroupingContext): readonly GroupingFinding[] {
  return drafts
    .map((draft) => finishFinding(draft, context))
    .toSorted(
      (left, right) =>
        SEVERITIES.indexOf(left.severity) - SEVERITIES.indexOf(right.severity) ||
        compareText(left.groupId ?? '', right.groupId ?? '') ||
        compareText(left.code, right.code) ||
        compareText(left.subject.id, right.subject.id) ||
        compareText(left.subject.path ?? '', right.subject.path ?? ''),
    );
}

function finishFinding(draft: FindingDraft, { shootId, at }: GroupingContext): GroupingFinding {
  const { code, why, groupId, recorder } = draft;
  const entry = GROUPING_FINDINGS[code];
  const path = [groupId, recorder, draft.detail].filter((part) => part != null).join('/');
  return {
    code,
    severity: draft.severity ?? entry.severity,
    subject: draft.clipId === undefined ? { kind: 'shoot', id: shootId, path } : { kind: 'clip', id: draft.clipId },
    why,
    remedy: entry.remedy,
    at,
    groupId,
    recorder,
    clipIds: [...draft.clipIds].toSorted(compareText),
  };
}

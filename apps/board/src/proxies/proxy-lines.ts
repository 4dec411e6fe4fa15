import type { ProxyPlan, Run } from '../service/look-at-work.ts';
import { countOf, showSize } from '../words/show-size.ts';
import { showDuration } from '../words/show-duration.ts';

/** What stands of one clip's proxy, in words. */
export interface ProxyLine {
  readonly clipId: string;
  readonly recorder: string;
  readonly path: string;
  readonly state: string;
  /** Why, where it is not as planned. */
  readonly why: string | null;
  readonly isAmiss: boolean;
}

/** The clips that get a proxy, or should and do not, in the order of the work; what is amiss stands first. */
export function proxyLines(plan: ProxyPlan, rendering: readonly Run[]): readonly ProxyLine[] {
  const runs = new Map(rendering.map((run) => [run.subject.id, run]));
  const lines = plan.clips.flatMap((clip): ProxyLine[] => {
    const { clipId, recorder, path } = clip;
    switch (clip.state) {
      case 'not-needed':
        return [];
      case 'left-out':
        return [{ clipId, recorder, path, state: 'no room', why: clip.why, isAmiss: true }];
      case 'impossible':
        return [{ clipId, recorder, path, state: 'cannot be planned', why: clip.why, isAmiss: true }];
      case 'planned':
        return [{ clipId, recorder, path, ...stateOf(runs.get(clipId)) }];
    }
  });
  return lines.toSorted((one, other) => Number(other.isAmiss) - Number(one.isAmiss));
}

/** The plan in a sentence or two; null while there is none. */
export function proxyTotals({ totals }: ProxyPlan): string | null {
  if (totals === null) return null;
  const { planned, leftOut } = totals;
  if (planned.count + leftOut.count === 0) return 'No clip needs one.';
  const left = leftOut.count === 0 ? '' : ` ${countOf(leftOut.count, 'clip')} without room.`;
  return `${countOf(planned.count, 'clip')}: about ${showSize(planned.bytes.expected)}, ${showDuration(planned.seconds.expected)} of work.${left}`;
}

function stateOf(run: Run | undefined): Pick<ProxyLine, 'state' | 'why' | 'isAmiss'> {
  switch (run?.state) {
    case undefined:
    case 'waiting':
      return { state: 'planned, not made', why: null, isAmiss: false };
    case 'running':
      return { state: 'is being made', why: null, isAmiss: false };
    case 'done':
      return { state: 'made', why: null, isAmiss: false };
    case 'failed':
      return { state: 'failed', why: run?.failure?.sentence ?? null, isAmiss: true };
    case 'skipped':
    case 'cancelled':
      return { state: 'left out', why: run?.why ?? null, isAmiss: false };
  }
}

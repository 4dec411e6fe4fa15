import type { GroupingPolicy } from '../grouping-policy.ts';
import { compareText } from '../in-order.ts';
import { lowerMedian } from '../median.ts';
import type { TimedClip } from '../reading/timed-clip.ts';
import { TICKS_PER_SECOND } from '../ticks.ts';

/** A stretch in which one recorder's timecode went on without being set anew. Its clips are in the order of recording. */
export interface ClockRun {
  readonly recorder: string;
  readonly clips: readonly TimedClip[];
  /** By how much the recorder's calendar is ahead of its timecode, in milliseconds: where its label 00:00:00:00 lies. */
  readonly zeroMs: number;
}

/** Going back by less than this is two dates' rounding; by more, the timecode was set anew. */
const SET_ANEW_MS = 60_000;

/**
 * Splits one recorder's clips where its timecode jumps against its calendar: by a night or more (another day, or past
 * midnight), or back onto timecode that it has used already. Independent of the order of the clips.
 */
export function findClockRuns(clips: readonly TimedClip[], policy: GroupingPolicy): readonly ClockRun[] {
  const nightMs = policy.nightHours * 3_600_000;
  const runs: TimedClip[][] = [];
  let last = { zeroMs: 0, end: 0 };
  for (const clip of clips.toSorted(compareByRecording)) {
    const zeroMs = zeroMsOf(clip);
    const jumpMs = Math.abs(zeroMs - last.zeroMs);
    const isBack = clip.ticks < last.end - TICKS_PER_SECOND;
    const end = clip.ticks + clip.lengthTicks;
    const run = runs.at(-1);
    if (run === undefined || jumpMs >= nightMs || (isBack && jumpMs > SET_ANEW_MS)) {
      runs.push([clip]);
      last = { zeroMs, end };
    } else {
      run.push(clip);
      last = { zeroMs, end: Math.max(end, last.end) };
    }
  }
  return runs.map((run) => ({
    recorder: run[0]?.clip.recorder ?? '',
    clips: run,
    zeroMs: lowerMedian(run.map(zeroMsOf)),
  }));
}

/** The order of recording by the calendar, then by timecode, then by id. */
export function compareByRecording(left: TimedClip, right: TimedClip): number {
  return (
    left.recordedAt.ms - right.recordedAt.ms || left.ticks - right.ticks || compareText(left.clip.id, right.clip.id)
  );
}

/** When, by the recorder's calendar, its timecode was or would have been zero. */
export function zeroMsOf(clip: TimedClip): number {
  return clip.recordedAt.ms - Math.round(clip.ticks / (TICKS_PER_SECOND / 1000));
}

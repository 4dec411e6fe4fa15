import type { GroupingPolicy } from '../grouping-policy.ts';
import { listBy } from '../in-order.ts';
import type { TimedClip } from '../reading/timed-clip.ts';
import { TICKS_PER_SECOND } from '../ticks.ts';
import { compareByRecording } from './clock-runs.ts';

const LEAST_SHARE = 0.8;
/** What two dates of whole seconds may be off, and more than splitting a file takes. */
const PAUSE_MS = 10_000;

/**
 * The recorders that begin every clip at zero while others do not: no clock runs in them. Two clips on two days are no
 * sign of it, since a clock that is preset to zero begins each day so.
 */
export function findRecordersFromZero(clips: readonly TimedClip[], policy: GroupingPolicy): ReadonlySet<string> {
  const recorders = [...listBy(clips, (clip) => clip.clip.recorder)];
  const fromZero = recorders.filter(([, own]) => beginsEachAtZero(own, policy)).map(([recorder]) => recorder);
  return new Set(fromZero.length < recorders.length ? fromZero : []);
}

function beginsEachAtZero(clips: readonly TimedClip[], policy: GroupingPolicy): boolean {
  const atZero = clips.filter((clip) => clip.ticks < TICKS_PER_SECOND).toSorted(compareByRecording);
  if (atZero.length < 2 || atZero.length < LEAST_SHARE * clips.length) return false;
  const nightMs = policy.nightHours * 3_600_000;
  return atZero.some((clip, at) => at > 0 && clip.recordedAt.ms - (atZero[at - 1]?.recordedAt.ms ?? 0) < nightMs);
}

/**
 * Whether timecode stood still between clips: each begins where the one before ended, though by their dates time had passed.
 * Clips must be in the order of recording.
 */
export function standsStillBetween(clips: readonly TimedClip[]): boolean {
  const pairs = clips.flatMap((clip, at) => {
    const before = clips[at - 1];
    return before === undefined ? [] : [{ before, clip }];
  });
  const stoodStill = pairs.filter(({ before, clip }) => {
    const gapTicks = Math.abs(clip.ticks - before.ticks - before.lengthTicks);
    const pauseMs = clip.recordedAt.ms - before.recordedAt.ms - before.lengthTicks / (TICKS_PER_SECOND / 1000);
    return gapTicks <= TICKS_PER_SECOND / 12 && pauseMs > PAUSE_MS;
  });
  return stoodStill.length > 0 && stoodStill.length >= pairs.length / 2;
}

/** A recorder that was switched on with the others, but left on its own clock, begins within its first minutes. */
const NEAR_ZERO_TICKS = 300 * TICKS_PER_SECOND;

/** Whether the first clip begins within five minutes of the recorder's zero. Clips must be in the order of recording. */
export function beginsNearZero(clips: readonly TimedClip[]): boolean {
  const [first] = clips;
  return first !== undefined && first.ticks < NEAR_ZERO_TICKS;
}

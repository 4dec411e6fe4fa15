import { addRationals, compareRationals, type Rational, secondsAt, subtractRationals } from '@quayside/timecode';
import type { ClipIndex } from '../clip-index.ts';
import type { PicturedGroup } from '../shoot-picture.ts';
import { rateOfGroup } from './group-rate.ts';

/** A group on the one time axis of its shoot, in real seconds since the first group's label 00:00:00:00. */
export interface PlacedGroup {
  readonly group: PicturedGroup;
  /** From 1, in the order of recording: what people call the group in these files. */
  readonly number: number;
  readonly start: Rational;
  readonly end: Rational;
}

/** Two groups whose file dates are this much further apart than their timecode are of different times round the clock. */
const SAME_ROUND_MS = 3_600_000;

/**
 * Places the groups so that each begins where the axis shows the label of its own start: after midnight, and on another day
 * that begins at the same timecode, the axis goes round once more. The places are exact.
 */
export function placeGroups(groups: readonly PicturedGroup[], clips: ClipIndex): readonly PlacedGroup[] {
  const [first] = groups;
  if (first === undefined) return [];
  const rate = rateOfGroup(first.rate);
  const day = secondsAt(rate.labelsPerDay, rate);
  let round: Rational = { numerator: 0, denominator: 1 };
  let end: Rational = first.start.secondsOfDay;
  let before: PlacedGroup | null = null;
  return groups.map((group, at) => {
    let start = addRationals(round, group.start.secondsOfDay);
    if (before !== null && isLaterRound(before, { group, start, end }, clips)) {
      round = addRationals(round, day);
      start = addRationals(start, day);
    }
    const groupEnd = addRationals(start, secondsAt(group.lengthInFrames, rateOfGroup(group.rate)));
    if (compareRationals(groupEnd, end) > 0) end = groupEnd;
    before = { group, number: at + 1, start, end: groupEnd };
    return before;
  });
}

/** Groups come in the order of recording, so one that would begin before its predecessor, or within it on another day, is later. */
function isLaterRound(
  before: PlacedGroup,
  next: { readonly group: PicturedGroup; readonly start: Rational; readonly end: Rational },
  clips: ClipIndex,
): boolean {
  const { numerator, denominator } = subtractRationals(next.start, before.start);
  // Starts are cut to whole frames of each group's own rate, so two at one moment may seem to be out of order.
  if (numerator / denominator < -1) return true;
  if (compareRationals(next.start, next.end) >= 0) return false;
  const byDates = recordedMs(next.group, clips) - recordedMs(before.group, clips);
  return byDates - (1000 * numerator) / denominator > SAME_ROUND_MS;
}

/** When the group began by the dates of its files: the median, so that one wrong calendar does not decide. */
function recordedMs(group: PicturedGroup, clips: ClipIndex): number {
  const own = group.members.filter((member) => !member.isShared);
  const dates = (own.length > 0 ? own : group.members)
    .map(({ clipId }) => clips.get(clipId))
    .map((clip) => Date.parse(clip.modifiedAt) - (clip.facts.durationMs ?? 0))
    .toSorted((left, right) => left - right);
  return dates[dates.length >> 1] ?? 0;
}

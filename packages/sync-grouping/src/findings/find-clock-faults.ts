import { printDecimal } from '@quayside/timecode';
import type { PlacedClip } from '../clock/placed-clip.ts';
import { compareText, listBy } from '../in-order.ts';
import { lowerMedian, spreadOf } from '../median.ts';
import { secondsOfTicks, TICKS_PER_SECOND } from '../ticks.ts';
import type { FindingDraft } from './finding-draft.ts';
import type { Attendance, GroupedTake } from './grouped-take.ts';

/** By how much a recorder began and ended a take later than the others. */
interface Lag {
  readonly day: string;
  readonly at: number;
  readonly start: number;
  readonly end: number;
  readonly clips: readonly PlacedClip[];
}

const FEWEST_TAKES = 3;
const FEWEST_FOR_DRIFT = 5;
const SHORTEST_DRIFT = 600 * TICKS_PER_SECOND;

/** A frame of the shoot and how late a follower may be, in ticks. */
export interface LagLimits {
  readonly frame: number;
  readonly followerTicks: number;
}

/**
 * The recorders whose timecode is off the others' by one amount in several takes, or runs away from it. Both ends of a take
 * must tell the same: who only starts late, starts late. Between two cameras the one with fewer clips is named.
 */
export function findClockFaults(takes: readonly GroupedTake[], limits: LagLimits): readonly FindingDraft[] {
  const lags = collectLags(takes);
  const isPair =
    new Set(takes.flatMap((take) => take.attendances.filter(isCounted).map((one) => one.recorder))).size === 2;
  const trusted = isPair
    ? [...lags.keys()].toSorted(
        (left, right) => countClips(takes, right) - countClips(takes, left) || compareText(left, right),
      )[0]
    : undefined;
  return [...lags]
    .filter(([recorder]) => recorder !== trusted)
    .flatMap(([recorder, own]) => findDriftOfDays(recorder, own, limits) ?? findOffset(recorder, own, limits) ?? []);
}

function isCounted({ role, isOwn, isTrusted }: Attendance): boolean {
  return role === 'camera' && isOwn && isTrusted;
}

function collectLags(takes: readonly GroupedTake[]): ReadonlyMap<string, readonly Lag[]> {
  const lags = takes.flatMap(({ day, attendances }) => {
    const counted = attendances.filter(isCounted);
    if (counted.length < 2) return [];
    const starts = counted.map((one) => one.start).toSorted((left, right) => left - right);
    const ends = counted.map((one) => one.end).toSorted((left, right) => left - right);
    return counted.map((one) => ({
      recorder: one.recorder,
      day,
      at: one.start,
      start: one.start - (lowerMedianWithout(starts, one.start) ?? one.start),
      end: one.end - (upperMedianWithout(ends, one.end) ?? one.end),
      clips: one.clips,
    }));
  });
  return listBy(lags, (lag) => lag.recorder);
}

/** The lower median of a sorted list without one occurrence of a value that is in it. */
function lowerMedianWithout(sorted: readonly number[], value: number): number | undefined {
  const middle = (sorted.length - 2) >> 1;
  return sorted[middle < sorted.indexOf(value) ? middle : middle + 1];
}

function upperMedianWithout(sorted: readonly number[], value: number): number | undefined {
  const middle = (sorted.length - 1) >> 1;
  return sorted[middle < sorted.indexOf(value) ? middle : middle + 1];
}

function clipIdsOf(lag: Lag): readonly string[] {
  return lag.clips.map((clip) => clip.timed.clip.id);
}

function findOffset(recorder: string, lags: readonly Lag[], { frame, followerTicks }: LagLimits): FindingDraft | null {
  if (lags.length < FEWEST_TAKES) return null;
  const [starts, ends] = [lags.map((lag) => lag.start), lags.map((lag) => lag.end)];
  const [start, end] = [lowerMedian(starts), lowerMedian(ends)];
  const isOff = Math.abs(start) > followerTicks && Math.abs(end) > followerTicks;
  const isSteady = Math.max(spreadOf(starts), spreadOf(ends)) <= 3 * frame && Math.abs(start - end) <= 4 * frame;
  if (!isOff || !isSteady) return null;
  const frames = Math.round(Math.abs(start) / frame);
  return {
    code: 'TIMECODE_OFFSET',
    recorder,
    groupId: null,
    clipIds: lags.flatMap(clipIdsOf),
    why: `${recorder} begins and ends ${lags.length} takes ${frames} frames ${start > 0 ? 'later' : 'earlier'} than the others by timecode; nothing that is only slow to start is off at both ends by the same.`,
  };
}

/** Between days clocks are set again, so each is looked at by itself; the first that drifted stands for the recorder. */
function findDriftOfDays(recorder: string, lags: readonly Lag[], limits: LagLimits): FindingDraft | null {
  const days = [...listBy(lags, (lag) => lag.day).values()];
  return days.flatMap((ofDay) => findDrift(recorder, ofDay, limits) ?? [])[0] ?? null;
}

/**
 * A change of more than a follower's lag from the first third of a day to the last, growing all the way, and plainly more than the lags vary:
 * less cannot be told from followers that react now sooner, now later.
 */
function findDrift(recorder: string, lags: readonly Lag[], { frame, followerTicks }: LagLimits): FindingDraft | null {
  const inOrder = lags.toSorted((left, right) => left.at - right.at);
  const [first, last] = [inOrder[0], inOrder.at(-1)];
  if (inOrder.length < FEWEST_FOR_DRIFT || first === undefined || last === undefined) return null;
  const span = last.at - first.at;
  if (span < SHORTEST_DRIFT) return null;
  const third = Math.floor(inOrder.length / 3) + 1;
  const means = inOrder.map((lag) => (lag.start + lag.end) / 2);
  const [early, middle, late] = [means.slice(0, third), means.slice(third - 1, 1 - third), means.slice(-third)];
  const [before, between, after] = [lowerMedian(early), lowerMedian(middle), lowerMedian(late)];
  const change = after - before;
  const noise = Math.max(spreadOf(early), spreadOf(late), frame / 2);
  const isGrowing = (between - before) * change > 0 && (after - between) * change > 0;
  if (!isGrowing || Math.abs(change) <= followerTicks || Math.abs(change) <= 2 * noise) return null;
  const frames = Math.round(Math.abs(change) / frame);
  return {
    code: 'TIMECODE_DRIFTS',
    recorder,
    groupId: null,
    clipIds: inOrder.flatMap(clipIdsOf),
    why: `The timecode of ${recorder} ran ${frames} frames ${change > 0 ? 'ahead of' : 'behind'} the others' within ${printDecimal(secondsOfTicks(Math.round(span / 60)), 0)} minutes.`,
  };
}

function countClips(takes: readonly GroupedTake[], recorder: string): number {
  return takes.filter((take) => take.attendances.some((one) => one.recorder === recorder)).length;
}

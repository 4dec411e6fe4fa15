import { printLabel, type Rate, secondsAt, wrapCount } from '@quayside/timecode';
import type { PlacedClip } from '../clock/placed-clip.ts';
import { dayTicksOf } from '../clock/place-by-timecode.ts';
import { compareText } from '../in-order.ts';
import type { SyncGroup } from '../sync-group.ts';
import type { Take } from '../takes/find-takes.ts';
import { comparePlaced } from '../takes/join-spans.ts';
import { firstUnitFrom, lastUnitUpTo, ticksAtUnit } from '../ticks.ts';
import { describeMember } from './group-member.ts';
import { findGroupRate } from './group-rate.ts';
import { proposeGroupId } from './group-ids.ts';

/** Each take as a group, in the order of the takes. The ids are proposals: unique only once `keepGroupIds` has seen them. */
export function buildGroups(takes: readonly Take[], reference: Rate | null): readonly SyncGroup[] {
  const housed = new Map<PlacedClip, number>();
  for (const take of takes) {
    for (const clip of [...take.own, ...take.passing]) housed.set(clip, (housed.get(clip) ?? 0) + 1);
  }
  return takes.map((take) => buildGroup(take, reference, housed));
}

function buildGroup(take: Take, reference: Rate | null, housed: ReadonlyMap<PlacedClip, number>): SyncGroup {
  const own = take.own.toSorted(comparePlaced);
  const { rate, rateFrom } = findGroupRate(own, reference);
  const { count, ticks } = findStart(take, own, { rate, reference });
  const lengthInFrames = firstUnitFrom(take.end - ticks, rate);
  const time = { start: ticks, end: ticks + ticksAtUnit(lengthInFrames, rate), rate };
  const members = [...own, ...take.passing]
    .map((clip) => describeMember(clip, time, (housed.get(clip) ?? 1) > 1))
    .toSorted(
      (left, right) =>
        left.offsetInSamples / left.sampleRate - right.offsetInSamples / right.sampleRate ||
        compareText(left.recorder, right.recorder) ||
        compareText(left.clipId, right.clipId),
    );
  const timecode = printLabel(count, rate);
  const recordedAt = own[0]?.timed.recordedAt;
  const { numerator, denominator } = secondsAt(count, rate);
  return {
    id: proposeGroupId({ date: recordedAt?.date ?? '', timecode, clipId: own[0]?.timed.clip.id ?? '' }),
    day: { date: recordedAt?.date ?? '', isCertain: recordedAt?.isCertain ?? false },
    rate: {
      name: rate.name,
      numerator: rate.numerator,
      denominator: rate.denominator,
      isDropFrame: rate.drop > 0,
    },
    rateFrom,
    start: { count, timecode, secondsOfDay: { numerator, denominator } },
    lengthInFrames,
    members,
  };
}

/**
 * The last whole frame of the group's rate at or before its beginning. Frames are counted from a picture of that rate with
 * timecode of its own, so that the group's labels are those in the files.
 */
function findStart(
  take: Take,
  own: readonly PlacedClip[],
  { rate, reference }: { readonly rate: Rate; readonly reference: Rate | null },
): { readonly count: number; readonly ticks: number } {
  const anchor =
    own.find((clip) => clip.timed.rate === rate && clip.timed.count !== null && clip.placedBy === 'timecode') ??
    own.find((clip) => clip.timed.rate === rate && clip.timed.count !== null && clip.placedBy === 'other-rate');
  if (anchor?.timed.count == null) {
    const dayTicks = dayTicksOf(reference);
    const inDay = ((take.start % dayTicks) + dayTicks) % dayTicks;
    const count = lastUnitUpTo(inDay, rate);
    return { count: wrapCount(count, rate), ticks: take.start - (inDay - ticksAtUnit(count, rate)) };
  }
  const frames = lastUnitUpTo(take.start - anchor.start, rate);
  return { count: wrapCount(anchor.timed.count + frames, rate), ticks: anchor.start + ticksAtUnit(frames, rate) };
}

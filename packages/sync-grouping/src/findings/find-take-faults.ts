import { printDecimal } from '@quayside/timecode';
import type { GroupingPolicy } from '../grouping-policy.ts';
import { listBy } from '../in-order.ts';
import { lowerMedian, upperMedian } from '../median.ts';
import { SPLIT_TICKS } from '../takes/join-spans.ts';
import { secondsOfTicks, TICKS_PER_SECOND } from '../ticks.ts';
import type { FindingDraft } from './finding-draft.ts';
import type { LagLimits } from './find-clock-faults.ts';
import type { Attendance, GroupedTake } from './grouped-take.ts';

/** Clips that begin late, end early or pause within their take. `apart` are recorders whose clock is at fault instead. */
export function findTakeFaults(
  takes: readonly GroupedTake[],
  limits: LagLimits,
  apart: ReadonlySet<string>,
): readonly FindingDraft[] {
  return takes.flatMap((take) => [...findRaggedEnds(take, limits, apart), ...findPauses(take)]);
}

function findRaggedEnds(
  { group, attendances }: GroupedTake,
  { frame, followerTicks }: LagLimits,
  apart: ReadonlySet<string>,
): readonly FindingDraft[] {
  const trusted = attendances.filter((one) => one.isTrusted && !apart.has(one.recorder));
  const cameras = trusted.filter((one) => one.role === 'camera' && one.isOwn);
  const measure = cameras.length > 0 ? cameras : trusted.filter((one) => one.isOwn);
  if (trusted.length < 2 || measure.length === 0) return [];
  const start = lowerMedian(measure.map((one) => one.start));
  const end = upperMedian(measure.map((one) => one.end));
  return trusted.flatMap((one) => {
    const ends: FindingDraft[] = [];
    const { recorder } = one;
    const [first, last] = [one.clips[0], one.clips.find((clip) => clip.end === one.end)];
    const about = { recorder, groupId: group.id, ...(one.role === 'program' ? { severity: 'info' as const } : {}) };
    if (first !== undefined && one.start - start > followerTicks) {
      const late = `${framesIn(one.start - start, frame)} later than the others of take ${group.start.timecode}`;
      ends.push({
        ...about,
        ...clipIdsOf(first),
        code: 'CLIP_STARTS_LATE',
        why: `${first.timed.clip.path} (${recorder}) begins ${late}.`,
      });
    }
    if (last !== undefined && end - one.end > followerTicks) {
      const early = `${framesIn(end - one.end, frame)} before the others of take ${group.start.timecode}`;
      ends.push({
        ...about,
        ...clipIdsOf(last),
        code: 'CLIP_CUT_SHORT',
        why: `${last.timed.clip.path} (${recorder}) ends ${early}.`,
      });
    }
    return ends;
  });
}

/** A second is too short for a person to stop and start, and far too long for a file to be split. */
function findPauses({ group, attendances }: GroupedTake): readonly FindingDraft[] {
  return attendances.flatMap(({ clips, recorder, isTrusted }) => {
    let [end, last] = [clips[0]?.end ?? 0, clips[0]];
    return clips.slice(1).flatMap((clip) => {
      const [pause, before] = [clip.start - end, last];
      if (clip.end > end) [end, last] = [clip.end, clip];
      if (!isTrusted || before === undefined || pause <= SPLIT_TICKS) return [];
      const isGap = pause <= TICKS_PER_SECOND;
      const [from, to] = [before.timed.clip, clip.timed.clip];
      const length = `${printDecimal(secondsOfTicks(pause), 2)} s`;
      return [
        {
          code: isGap ? 'TIMECODE_GAP' : 'RECORDER_STOPPED_IN_TAKE',
          recorder,
          groupId: group.id,
          clipIds: [from.id, to.id],
          detail: to.id,
          why: isGap
            ? `Between ${from.path} and ${to.path} (${recorder}), ${length} of timecode are missing.`
            : `${recorder} stopped for ${length} in take ${group.start.timecode}, between ${from.path} and ${to.path}.`,
        } as const,
      ];
    });
  });
}

/** Takes that a recorder of the day is not in, and takes that one recorder holds alone. */
export function findMissingRecorders(takes: readonly GroupedTake[], policy: GroupingPolicy): readonly FindingDraft[] {
  const recorders = new Set(takes.flatMap((take) => take.attendances.map((one) => one.recorder)));
  const shared = takes.filter((take) => take.attendances.length > 1);
  const expected = listExpected(shared, policy);
  return takes.flatMap((take) => {
    const [only] = take.attendances;
    if (only !== undefined && take.attendances.length === 1)
      return recorders.size > 1 ? describeLoneTake(take, only) : [];
    const there = new Set(take.attendances.map((one) => one.recorder));
    return (expected.get(take.day) ?? [])
      .filter(({ recorder }) => !there.has(recorder))
      .map(({ recorder, isProgram }) => ({
        code: 'RECORDER_MISSING_FROM_TAKE' as const,
        recorder,
        groupId: take.group.id,
        clipIds: [],
        why: `${recorder} has no clip in take ${take.group.start.timecode}, which ${[...there].toSorted().join(', ')} recorded.`,
        ...(isProgram ? { severity: 'info' as const } : {}),
      }));
  });
}

/** A recorder that a take should have. */
interface Expected {
  readonly recorder: string;
  readonly isProgram: boolean;
}

/** By day, the recorders that are in more than the occasional take of it, and those that the policy names. */
function listExpected(
  takes: readonly GroupedTake[],
  { occasionalShare, expectedRecorders }: GroupingPolicy,
): ReadonlyMap<string, readonly Expected[]> {
  const days = listBy(takes, (take) => take.day);
  return new Map(
    [...days].map(([day, ofDay]) => {
      const attendances = listBy(
        ofDay.flatMap((take) => take.attendances),
        (one) => one.recorder,
      );
      const usual = [...attendances]
        .filter(([, own]) => own.length >= occasionalShare * ofDay.length)
        .map(([recorder, own]) => ({ recorder, isProgram: own[0]?.role === 'program' }));
      const named = expectedRecorders.filter((recorder) => usual.every((one) => one.recorder !== recorder));
      return [day, [...usual, ...named.map((recorder) => ({ recorder, isProgram: false }))]];
    }),
  );
}

/** Sound or the switcher alone is often meant: a room's sound, a test. */
function describeLoneTake({ group }: GroupedTake, only: Attendance): readonly FindingDraft[] {
  return [
    {
      code: 'TAKE_ON_ONE_RECORDER',
      recorder: only.recorder,
      groupId: group.id,
      clipIds: only.clips.map((clip) => clip.timed.clip.id),
      why: `Only ${only.recorder} recorded from ${group.start.timecode} on.`,
      ...(only.role === 'camera' ? {} : { severity: 'info' }),
    },
  ];
}

function clipIdsOf(clip: Attendance['clips'][number]): {
  readonly clipIds: readonly string[];
  readonly clipId: string;
} {
  return { clipIds: [clip.timed.clip.id], clipId: clip.timed.clip.id };
}

function framesIn(ticks: number, frame: number): string {
  return `${Math.round(ticks / frame)} frames`;
}

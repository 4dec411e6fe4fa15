import type { Clip } from '@quayside/shoot';
import { ticksPerUnit, TICKS_PER_SECOND } from './ticks.ts';
import { findClockDays, orderRecorders } from './clock/clock-days.ts';
import { findClockRuns } from './clock/clock-runs.ts';
import { findRecordersFromZero } from './clock/own-zero.ts';
import { dayTicksOf, placeByTimecode } from './clock/place-by-timecode.ts';
import { findReferenceRate } from './clock/reference-rate.ts';
import { settleStrays } from './clock/settle-strays.ts';
import { findClipFaults, findTwinClips, findUnplaced } from './findings/find-clip-faults.ts';
import { findClockFaults } from './findings/find-clock-faults.ts';
import { describeStrays, findFarDates, findOtherRates, findRepeatedTimecode } from './findings/find-recorder-faults.ts';
import { findMissingRecorders, findTakeFaults } from './findings/find-take-faults.ts';
import { findUnlike } from './findings/find-unlike.ts';
import { finishFindings } from './findings/finding-draft.ts';
import { listGroupedTakes } from './findings/grouped-take.ts';
import type { GroupingPolicy } from './grouping-policy.ts';
import type { GroupingContext, GroupingResult, UngroupedClip } from './grouping-result.ts';
import { buildGroups } from './groups/build-groups.ts';
import { keepGroupIds } from './groups/group-ids.ts';
import { compareText, listBy } from './in-order.ts';
import { findTwins } from './reading/find-twins.ts';
import { readClip } from './reading/read-clip.ts';
import { findAllTakes } from './takes/find-all-takes.ts';

/**
 * From the facts of a shoot's clips, each with an id of its own, to sync groups and findings. Deterministic, independent of the clips' order; every clip
 * is in a group or among the ungrouped with its reason. Hand in `context.previous` and groups keep their identity when clips
 * join or leave. Grows with n log n.
 */
export function groupBySync(clips: readonly Clip[], policy: GroupingPolicy, context: GroupingContext): GroupingResult {
  const readings = clips.toSorted((left, right) => compareText(left.id, right.id)).map(readClip);
  const readable = readings.filter((reading) => reading.ok).map((reading) => reading.timed);
  const twins = findTwins(readable);
  const spare = new Set(twins.flatMap((twin) => twin.others));
  const timed = readable.filter((clip) => !spare.has(clip));

  const reference = findReferenceRate(timed);
  const fromZero = findRecordersFromZero(timed, policy);
  const clocked = listBy(
    timed.filter((clip) => !fromZero.has(clip.clip.recorder)),
    (clip) => clip.clip.recorder,
  );
  const recorders = orderRecorders(
    [...clocked].map(([recorder, own]) => ({
      recorder,
      isCamera: own[0]?.clip.role === 'camera',
      clipCount: own.length,
      clips: own,
    })),
  );
  const days = findClockDays(
    recorders.map(({ clips: own }) => findClockRuns(own, policy)),
    policy,
  );
  const { placed, strays } = settleStrays(
    days,
    placeByTimecode(days, reference, policy),
    timed.filter((clip) => fromZero.has(clip.clip.recorder)),
  );

  const frame = reference === null ? TICKS_PER_SECOND / 25 : ticksPerUnit(reference);
  const followerTicks = policy.followerFrames * frame;
  const takes = findAllTakes(placed, {
    triggerTicks: policy.triggerToleranceFrames * frame,
    followerTicks,
    restartTicks: Math.round(policy.restartPauseSeconds * TICKS_PER_SECOND),
  });
  const groups = keepGroupIds(buildGroups(takes, reference), context.previous ?? []);
  const ungrouped = listUngrouped(readings, twins);

  const groupedTakes = listGroupedTakes(groups, takes, dayTicksOf(reference));
  const limits = { frame, followerTicks };
  const clockFaults = [...describeStrays(strays), ...findClockFaults(groupedTakes, limits)];
  const apart = new Set(clockFaults.map((fault) => fault.recorder ?? ''));
  const inIdOrder = readings.map((reading) => (reading.ok ? reading.timed.clip : reading.clip));
  const drafts = [
    ...clockFaults,
    ...findTakeFaults(groupedTakes, limits, apart),
    ...findMissingRecorders(groupedTakes, policy),
    ...findOtherRates(placed),
    ...findRepeatedTimecode(placed),
    ...findFarDates(timed, context),
    ...findUnlike(inIdOrder),
    ...findClipFaults(inIdOrder, policy),
    ...findUnplaced(ungrouped),
    ...findTwinClips(twins),
  ];
  return { groups: [...groups], ungrouped: [...ungrouped], findings: [...finishFindings(drafts, context)] };
}

function listUngrouped(
  readings: readonly ReturnType<typeof readClip>[],
  twins: ReturnType<typeof findTwins>,
): readonly UngroupedClip[] {
  const unread = readings.flatMap((reading) =>
    reading.ok
      ? []
      : [{ clipId: reading.clip.id, recorder: reading.clip.recorder, code: reading.code, why: reading.why }],
  );
  const twice = twins.flatMap(({ kept, others }) =>
    others.map(({ clip }) => ({
      clipId: clip.id,
      recorder: clip.recorder,
      code: 'EXISTS_TWICE' as const,
      why: `It is the same clip as ${kept.clip.path} of roll ${kept.clip.rollId}, which is grouped in its place.`,
    })),
  );
  return [...unread, ...twice].toSorted((left, right) => compareText(left.clipId, right.clipId));
}

import type { RecorderRole } from '@quayside/shoot';
import type { PlacedClip } from '../clock/placed-clip.ts';
import { listBy } from '../in-order.ts';
import type { SyncGroup } from '../sync-group.ts';
import { divideDown } from '../ticks.ts';
import type { Take } from '../takes/find-takes.ts';

/** What one recorder did in a take. */
export interface Attendance {
  readonly recorder: string;
  readonly role: RecorderRole;
  /** By start. */
  readonly clips: readonly PlacedClip[];
  readonly start: number;
  readonly end: number;
  /** Whether its clips ran in this take alone. */
  readonly isOwn: boolean;
  /** Whether its place is its own timecode's, as written. */
  readonly isTrusted: boolean;
}

/** A group with the recorders that were there. */
export interface GroupedTake {
  readonly group: SyncGroup;
  /** What tells the days of the shoot's labels apart. */
  readonly day: string;
  readonly attendances: readonly Attendance[];
}

/** Pairs each group with its take: both lists are in one order. `dayTicks` is how long a day of labels lasts. */
export function listGroupedTakes(
  groups: readonly SyncGroup[],
  takes: readonly Take[],
  dayTicks: number,
): readonly GroupedTake[] {
  return groups.flatMap((group, at) => {
    const take = takes[at];
    if (take === undefined) return [];
    const shared = new Set(group.members.filter((member) => member.isShared).map((member) => member.clipId));
    const attendances = [...listBy([...take.own, ...take.passing], (clip) => clip.timed.clip.recorder)].map(
      ([recorder, clips]) => describeAttendance(recorder, clips, shared),
    );
    return [{ group, day: `${take.chain} ${divideDown(take.start, dayTicks)}`, attendances }];
  });
}

function describeAttendance(recorder: string, clips: readonly PlacedClip[], shared: ReadonlySet<string>): Attendance {
  const inOrder =
    clips.length === 1 ? clips : clips.toSorted((left, right) => left.start - right.start || left.end - right.end);
  return {
    recorder,
    role: inOrder[0]?.timed.clip.role ?? 'camera',
    clips: inOrder,
    start: inOrder[0]?.start ?? 0,
    end: inOrder.reduce((latest, clip) => Math.max(latest, clip.end), 0),
    isOwn: inOrder.every((clip) => !shared.has(clip.timed.clip.id)),
    isTrusted: inOrder.every((clip) => clip.confidence !== 'weak'),
  };
}

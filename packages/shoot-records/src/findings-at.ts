import type { ClipIndex } from './clip-index.ts';
import type { PicturedFinding, ShootPicture } from './shoot-picture.ts';

/** A finding with the number that the records know it by: its place in the picture's list, from 1. */
export interface NumberedFinding extends PicturedFinding {
  readonly number: number;
}

/** The findings by what they are about; one finding may be about several things. Each list is in the order of the numbers. */
export interface FindingsAt {
  readonly all: readonly NumberedFinding[];
  /** The groups that a finding touches, by its number. */
  groupsOf(number: number): readonly string[];
  /** All that touches a group. */
  ofGroup(groupId: string): readonly NumberedFinding[];
  /** What is marked in a group: at it as a whole or at a recorder in it. */
  markedIn(groupId: string): readonly NumberedFinding[];
  /** What concerns a recorder in one group. */
  ofCell(groupId: string, recorder: string): readonly NumberedFinding[];
  /** What concerns a group as a whole. */
  ofWholeGroup(groupId: string): readonly NumberedFinding[];
  /** What concerns a recorder in general: more groups than are marked one by one, or none. */
  ofRecorder(recorder: string): readonly NumberedFinding[];
  /** What concerns clips of a recorder that are in no group. */
  ofUngrouped(recorder: string): readonly NumberedFinding[];
}

/** A finding about more groups than this is marked once at the recorder, not at each of its clips. */
const MOST_CELLS = 3;

/** Looks up the place of every finding once. */
export function placeFindings(picture: ShootPicture, clips: ClipIndex): FindingsAt {
  const lists = new Map<string, Set<NumberedFinding>>();
  const put: Put = (finding, ...key) => {
    const list = lists.get(key.join('\n'));
    if (list === undefined) lists.set(key.join('\n'), new Set([finding]));
    else list.add(finding);
  };
  const groupsOfClip = indexGroups(picture);
  const all = picture.findings.map((finding, at) => ({ ...finding, number: at + 1 }));
  const touched = all.map((finding) => groupsAbout(finding, groupsOfClip));
  for (const finding of all) {
    const groupIds = touched[finding.number - 1] ?? [];
    for (const groupId of groupIds) put(finding, 'group', groupId);
    if (finding.clipIds.length === 0) putWithoutClips(finding, put);
    for (const clipId of finding.clipIds) {
      const recorder = clips.find(clipId)?.recorder ?? finding.recorder ?? '';
      const own = groupsOfClip.get(clipId);
      if (own === undefined) put(finding, 'ungrouped', recorder);
      else if (groupIds.length > MOST_CELLS) put(finding, 'recorder', recorder);
      else putInGroups(finding, { own, groupIds, recorder }, put);
    }
  }
  const listed = (...key: readonly string[]): readonly NumberedFinding[] => [...(lists.get(key.join('\n')) ?? [])];
  return {
    all,
    groupsOf: (number) => touched[number - 1] ?? [],
    ofGroup: (groupId) => listed('group', groupId),
    markedIn: (groupId) => listed('marked', groupId),
    ofCell: (groupId, recorder) => listed('cell', groupId, recorder),
    ofWholeGroup: (groupId) => listed('whole', groupId),
    ofRecorder: (recorder) => listed('recorder', recorder),
    ofUngrouped: (recorder) => listed('ungrouped', recorder),
  };
}

type Put = (finding: NumberedFinding, ...key: readonly string[]) => void;

function putWithoutClips(finding: NumberedFinding, put: Put): void {
  const { groupId, recorder } = finding;
  if (groupId !== null) put(finding, 'marked', groupId);
  if (groupId !== null && recorder !== null) put(finding, 'cell', groupId, recorder);
  else if (groupId !== null) put(finding, 'whole', groupId);
  else if (recorder !== null) put(finding, 'recorder', recorder);
}

/** A clip that runs through several groups is marked in those only that the finding is about. */
function putInGroups(
  finding: NumberedFinding,
  clip: { readonly own: ReadonlySet<string>; readonly groupIds: readonly string[]; readonly recorder: string },
  put: Put,
): void {
  for (const groupId of clip.groupIds) {
    if (!clip.own.has(groupId)) continue;
    put(finding, 'marked', groupId);
    put(finding, 'cell', groupId, clip.recorder);
  }
}

function indexGroups({ groups }: ShootPicture): ReadonlyMap<string, ReadonlySet<string>> {
  const index = new Map<string, Set<string>>();
  for (const group of groups) {
    for (const { clipId } of group.members) {
      const known = index.get(clipId);
      if (known === undefined) index.set(clipId, new Set([group.id]));
      else known.add(group.id);
    }
  }
  return index;
}

function groupsAbout(finding: PicturedFinding, index: ReadonlyMap<string, ReadonlySet<string>>): readonly string[] {
  if (finding.groupId !== null) return [finding.groupId];
  return [...new Set(finding.clipIds.flatMap((clipId) => [...(index.get(clipId) ?? [])]))];
}

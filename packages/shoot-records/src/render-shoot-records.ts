import { placeGroups } from './axis/place-groups.ts';
import { indexClips } from './clip-index.ts';
import { groupTimeline } from './otio/group-timeline.ts';
import { shootTimeline } from './otio/shoot-timeline.ts';
import { groupTimelineName, RECORD_NAMES } from './record-names.ts';
import type { ShootPicture } from './shoot-picture.ts';

/**
 * The shoot's records as texts by file name, in the order of `recordNames`. The same picture gives the same bytes.
 * Names are relative to `<shoot>/records` at the destination that the clips' places are of.
 */
export function renderShootRecords(picture: ShootPicture): ReadonlyMap<string, string> {
  const clips = indexClips(picture);
  const placed = placeGroups(picture.groups, clips);
  return new Map([
    [RECORD_NAMES.shootTimeline, shootTimeline(placed, clips, picture)],
    ...picture.groups.map((group) => [groupTimelineName(group.id), groupTimeline(group, clips, picture)] as const),
  ]);
}

import { placeGroups, type PlacedGroup } from './axis/place-groups.ts';
import { type ClipIndex, indexClips } from './clip-index.ts';
import { type FindingsAt, placeFindings } from './findings-at.ts';
import { listRecorders, type Recorder } from './recorders.ts';
import type { ShootPicture } from './shoot-picture.ts';

/** A picture with what every file looks up in it, worked out once. */
export interface ShootView extends Pick<ShootPicture, 'shoot' | 'madeAt' | 'ungrouped' | 'proxies' | 'guests'> {
  readonly groups: readonly PlacedGroup[];
  readonly clips: ClipIndex;
  readonly findings: FindingsAt;
  /** The recorders that have a clip in a group or one that could be in none. */
  readonly recorders: readonly Recorder[];
}

/** Throws CLIP_NOT_PICTURED when a group or an ungrouped clip is not among the clips. */
export function viewOf(picture: ShootPicture): ShootView {
  const clips = indexClips(picture);
  const shown = [
    ...picture.groups.flatMap((group) => group.members.map((member) => member.clipId)),
    ...picture.ungrouped.filter((clip) => clip.code !== 'NO_MEDIA').map((clip) => clip.clipId),
  ];
  return {
    shoot: picture.shoot,
    madeAt: picture.madeAt,
    ungrouped: picture.ungrouped,
    proxies: picture.proxies,
    guests: picture.guests,
    groups: placeGroups(picture.groups, clips),
    clips,
    findings: placeFindings(picture, clips),
    recorders: listRecorders(shown.map((clipId) => clips.get(clipId))),
  };
}

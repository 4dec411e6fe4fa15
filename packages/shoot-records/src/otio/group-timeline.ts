import type { ShootView } from '../shoot-view.ts';
import { jsonText } from '../json-text.ts';
import { listRecorders } from '../recorders.ts';
import type { PicturedGroup } from '../shoot-picture.ts';
import { describeFinding, describeGroup } from './describe.ts';
import { rationalTime } from './rational-time.ts';
import { timelineObject } from './timeline-object.ts';
import { trackObjects } from './track-objects.ts';

/** `records/sync-groups`, two folders below the shoot's. */
const DEPTH = 2;

/**
 * The timeline of one group: it begins at the group's start, and each clip lies at its offset to the exact fraction. References
 * resolve from `groupTimelineName`.
 */
export function groupTimeline(group: PicturedGroup, { shoot, clips, findings }: ShootView): string {
  const members = group.members.map((member) => ({ member, start: member.offset }));
  const recorders = listRecorders(group.members.map(({ clipId }) => clips.get(clipId)));
  return jsonText(
    timelineObject({
      name: `${shoot.name} ${group.start.timecode}`,
      metadata: {
        shoot_id: shoot.id,
        shoot_name: shoot.name,
        ...describeGroup(group),
        findings: findings.ofGroup(group.id).map(describeFinding),
      },
      globalStartTime: rationalTime(group.start.count, group.rate),
      tracks: trackObjects(members, { clips, recorders, rate: group.rate, depth: DEPTH }),
    }),
  );
}

import { addRationals, compareRationals, type Rational, subtractRationals } from '@quayside/timecode';
import { jsonText } from '../json-text.ts';
import { listRecorders } from '../recorders.ts';
import type { ShootView } from '../shoot-view.ts';
import { describeFinding, describeGroup } from './describe.ts';
import { rationalTime } from './rational-time.ts';
import { timelineObject } from './timeline-object.ts';
import { trackObjects } from './track-objects.ts';

/** `records`, one folder below the shoot's. */
const DEPTH = 1;

/**
 * The timeline of the whole shoot: all groups at their own timecode, pauses kept. A shoot without groups has an empty one that
 * begins at zero. References resolve from `RECORD_NAMES.shootTimeline`.
 */
export function shootTimeline({ shoot, groups: placed, clips, findings, ungrouped }: ShootView): string {
  const [first] = placed.toSorted((left, right) => compareRationals(left.start, right.start));
  const rate = first?.group.rate ?? { numerator: 25, denominator: 1 };
  const zero: Rational = first?.start ?? { numerator: 0, denominator: 1 };
  const members = placed.flatMap(({ group, start }) => {
    const groupStart = subtractRationals(start, zero);
    return group.members.map((member) => ({ member, start: addRationals(groupStart, member.offset) }));
  });
  const recorders = listRecorders(members.map(({ member }) => clips.get(member.clipId)));
  return jsonText(
    timelineObject({
      name: shoot.name,
      metadata: {
        shoot_id: shoot.id,
        shoot_name: shoot.name,
        groups: placed.map(({ group, start }) => ({
          ...describeGroup(group),
          begins: { ...subtractRationals(start, zero) },
        })),
        ungrouped: ungrouped.map(({ clipId, recorder, code, why }) => ({ clip_id: clipId, recorder, code, why })),
        findings: findings.all.map(describeFinding),
      },
      globalStartTime: rationalTime(first?.group.start.count ?? 0, rate),
      tracks: trackObjects(members, { clips, recorders, rate, depth: DEPTH }),
    }),
  );
}

import { describe, expect, it } from 'vitest';
import { groupBySync } from '../group-by-sync.ts';
import {
  CONTEXT,
  group,
  outline,
  POLICY,
  soundClip,
  threeTakes,
  threeTakesWithout,
} from '../pottery-class.test-support.ts';

// What recorders do on a set is the trade's common practice and has no published source; it is named where it is relied on.

describe('identity', () => {
  it('stays when a roll arrives later, even one that began earlier', () => {
    const before = group(threeTakesWithout('wheel'));
    const after = groupBySync(threeTakes(), POLICY, { ...CONTEXT, previous: before.groups });
    expect(after.groups.map((one) => one.id)).toEqual(before.groups.map((one) => one.id));
    expect(outline(after)[0]).toContain('wheel+0');
  });

  it('does not pass on by a clip that runs through several groups', () => {
    const desk = soundClip({ recorder: 'desk', from: '09:59:00:00', length: 3600 });
    const before = group([
      ...threeTakes()
        .filter((clip) => clip.recorder === 'wheel')
        .slice(0, 2),
      desk,
    ]).groups;
    // The roll of wheel was moved to another shoot.
    const after = groupBySync([...threeTakesWithout('wheel'), desk], POLICY, { ...CONTEXT, previous: before });
    const former = new Set(before.map((one) => one.id));
    expect(after.groups.filter((one) => former.has(one.id))).toEqual([]);
  });

  it('goes to the larger part when a take turns out to be two', () => {
    const [first] = group(threeTakes()).groups;
    const glued = {
      id: 'as-it-was',
      members: group(threeTakes())
        .groups.flatMap((one) => one.members)
        .slice(0, 7),
    };
    const after = groupBySync(threeTakes(), POLICY, { ...CONTEXT, previous: [glued] });
    expect(after.groups[0]?.id).toBe('as-it-was');
    expect(new Set(after.groups.map((one) => one.id)).size).toBe(3);
    expect(first?.id).not.toBe('as-it-was');
  });
});

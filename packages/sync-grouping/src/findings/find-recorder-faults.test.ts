import type { Clip } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { groupBySync } from '../group-by-sync.ts';
import {
  CONTEXT,
  group,
  outline,
  pictureClip,
  POLICY,
  threeTakes,
  threeTakesWithout,
  told,
} from '../pottery-class.test-support.ts';

// What recorders do on a set is the trade's common practice and has no published source; it is named where it is relied on.

const find = (clips: readonly Clip[]): readonly string[] => told(group(clips));
const LATER = '10:20:00:03';
const changed = (recorder: string, facts: (clip: Clip) => Partial<Clip['facts']>): readonly Clip[] =>
  threeTakes().map((clip) =>
    clip.recorder === recorder ? { ...clip, facts: { ...clip.facts, ...facts(clip) } } : clip,
  );

describe('a recorder', () => {
  it('that lost frames between two files of one recording is told', () => {
    const parts = [
      pictureClip({ recorder: 'kiln', from: '10:20:00:03', length: 600 }),
      pictureClip({ recorder: 'kiln', from: '10:20:25:09', length: 594 }),
    ];
    expect(find([...threeTakesWithout('kiln', LATER), ...parts])).toEqual(['TIMECODE_GAP kiln 10:20:00:00']);
  });

  it('that carries the same timecode twice is told', () => {
    const again = pictureClip({ recorder: 'kiln', from: LATER, length: 1100, name: 'again.mov' });
    expect(find([...threeTakes(), again])).toEqual(['TIMECODE_REPEATED kiln']);
  });

  it('that holds a clip twice is told, and the second copy is in no group', () => {
    const copies = threeTakes()
      .filter((clip) => clip.recorder === 'kiln')
      .map((clip) => ({ ...clip, id: `kiln-1/copy of ${clip.path}`, path: `copy of ${clip.path}` }));
    const result = groupBySync([...threeTakes(), ...copies.slice(0, 1)], POLICY, CONTEXT);
    expect(told(result)).toEqual(['CLIP_EXISTS_TWICE kiln']);
    expect(result.ungrouped.map((one) => one.code)).toEqual(['EXISTS_TWICE']);
    expect(outline(result)).toEqual(outline(groupBySync(threeTakes(), POLICY, CONTEXT)));
  });

  it('whose clip is damaged is told, the clip being grouped where it can be', () => {
    const clips = changed('kiln', (clip) =>
      clip.facts.startTimecode === LATER ? { damage: [{ kind: 'truncated', why: 'The file is cut off.' }] } : {},
    );
    const result = groupBySync(clips, POLICY, CONTEXT);
    expect(told(result)).toEqual(['CLIP_DAMAGED kiln']);
    expect(result.groups[2]?.members).toHaveLength(4);
  });

  it('whose clips have no timecode, or none that exists, is told', () => {
    expect(
      find([
        ...threeTakes(),
        pictureClip({ recorder: 'kiln', from: '11:00:00:00', length: 10, facts: { startTimecode: null } }),
      ]),
    ).toEqual(['CLIP_WITHOUT_TIMECODE kiln']);
    expect(
      find([
        ...threeTakes(),
        pictureClip({ recorder: 'kiln', from: '11:00:00:00', length: 10, facts: { startTimecode: '11:00:00:24' } }),
      ]),
    ).toEqual(['CLIP_NOT_PLACED kiln']);
  });

  it('dated far from the days that the shoot is known to have is told', () => {
    expect(told(groupBySync(threeTakes(), POLICY, { ...CONTEXT, shootDays: ['2026-11-25'] }))).toEqual([]);
    expect(told(groupBySync(threeTakes(), POLICY, { ...CONTEXT, shootDays: ['2026-11-20'] }))).toHaveLength(4);
  });
});

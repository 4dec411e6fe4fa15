import type { Clip } from '@quayside/shoot';
import { RATES } from '@quayside/timecode';
import { describe, expect, it } from 'vitest';
import { groupBySync } from '../group-by-sync.ts';
import { CONTEXT, group, pictureClip, POLICY, threeTakes, told } from '../pottery-class.test-support.ts';

// What recorders do on a set is the trade's common practice and has no published source; it is named where it is relied on.

const find = (clips: readonly Clip[]): readonly string[] => told(group(clips));
const changed = (recorder: string, facts: (clip: Clip) => Partial<Clip['facts']>): readonly Clip[] =>
  threeTakes().map((clip) =>
    clip.recorder === recorder ? { ...clip, facts: { ...clip.facts, ...facts(clip) } } : clip,
  );
const picture = (clip: Clip, other: Partial<NonNullable<Clip['facts']['picture']>>): Partial<Clip['facts']> => ({
  picture: clip.facts.picture === null ? null : { ...clip.facts.picture, ...other },
});
const mix = (rate = RATES['23.976']): Clip =>
  pictureClip({
    recorder: 'mix',
    from: '09:59:00:00',
    length: 24 * 60 * 30,
    rate,
    picture: { width: 1920, height: 1080, codec: 'h264' },
  });
const dropTake = (from: string): readonly Clip[] =>
  ['wheel', 'hands', 'wide'].map((recorder) => pictureClip({ recorder, from, length: 3000, rate: RATES['29.97 DF'] }));
const plainKiln = (from: string): Clip =>
  pictureClip({ recorder: 'kiln', from, length: 3000, rate: RATES['29.97 NDF'] });

describe('settings', () => {
  it.each([
    ['FRAME_SIZE_UNLIKE', (clip: Clip) => picture(clip, { width: 1920, height: 1080 })],
    ['CODEC_UNLIKE', (clip: Clip) => picture(clip, { codec: 'h264' })],
    ['SCAN_UNLIKE', (clip: Clip) => picture(clip, { scan: 'interlaced' })],
    ['SOUND_MISSING', () => ({ sound: [] })],
    [
      'SAMPLE_RATE_ODD',
      (clip: Clip) => ({ sound: clip.facts.sound.map((sound) => ({ ...sound, sampleRate: 44_100 })) }),
    ],
  ] as const)('unlike the others are told once for a recorder: %s', (code, facts) => {
    expect(find(changed('wide', facts))).toEqual([`${code} wide`]);
  });

  it('unlike the others in one clip are told of that clip', () => {
    const clips = threeTakes().map((clip, at) =>
      at === 2 ? { ...clip, facts: { ...clip.facts, ...picture(clip, { codec: 'h264' }) } } : clip,
    );
    const [finding] = groupBySync(clips, POLICY, CONTEXT).findings;
    expect(finding?.subject).toEqual({ kind: 'clip', id: clips[2]?.id });
  });

  it('of the switcher may be of another size and codec, not of another rate', () => {
    expect(find([...threeTakes(), mix()])).toEqual([]);
    expect(find([...threeTakes(), mix(RATES['25'])])).toEqual(['FRAME_RATE_UNLIKE mix']);
  });

  it('of a varying frame rate are told of each clip', () => {
    expect(find(changed('wide', (clip) => picture(clip, { isVariableRate: true })))).toEqual(
      Array(3).fill('FRAME_RATE_VARIABLE wide'),
    );
  });

  it('of drop-frame beside non-drop are told', () => {
    const clips = [
      ...dropTake('10:00:00;00'),
      plainKiln('10:00:00:00'),
      ...dropTake('10:10:00;00'),
      plainKiln('10:10:00:00'),
    ];
    expect(find(clips)).toEqual(['DROP_FRAME_MIXED kiln']);
    expect(groupBySync(clips, POLICY, CONTEXT).groups.map((one) => one.members.length)).toEqual([4, 4]);
  });
});

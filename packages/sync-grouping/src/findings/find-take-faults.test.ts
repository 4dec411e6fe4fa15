import type { Clip } from '@quayside/shoot';
import { RATES } from '@quayside/timecode';
import { describe, expect, it } from 'vitest';
import { groupBySync } from '../group-by-sync.ts';
import { GroupingPolicy } from '../grouping-policy.ts';
import {
  CONTEXT,
  followedTake,
  group,
  pictureClip,
  soundClip,
  threeTakes,
  threeTakesWithout,
  told,
} from '../pottery-class.test-support.ts';

// What recorders do on a set is the trade's common practice and has no published source; it is named where it is relied on.

const find = (clips: readonly Clip[]): readonly string[] => told(group(clips));
const LATER = '10:20:00:03';

describe('the planted mistakes of one take', () => {
  it('are all found, and nothing else', () => {
    const rate = RATES['25'];
    const clips = [
      ...threeTakes(),
      ...['10:00:00:00', '10:10:00:00', '10:20:00:00'].map((from, at) =>
        soundClip({ recorder: 'desk', from, length: [100, 200, 50][at] ?? 0 }),
      ),
      pictureClip({ recorder: 'wheel', from: '10:30:00:00', length: 2400 }),
      pictureClip({ recorder: 'hands', from: '10:30:04:00', length: 2304 }),
      pictureClip({ recorder: 'wide', from: '10:30:00:02', length: 1800 }),
      pictureClip({ recorder: 'kiln', from: '10:30:00:03', length: 2502, rate }),
      // 37800 labelled seconds taken for real ones: 37800 x 48000, where 37837.8 x 48000 is right.
      soundClip({
        recorder: 'desk',
        from: '10:30:00:00',
        length: 100,
        wave: { timeReference: 1_814_400_000, samplesSinceMidnight: null, timecodeRate: null },
      }),
    ];
    expect(find(clips)).toEqual([
      'CLIP_CUT_SHORT wide 10:30:00:00',
      'CLIP_STARTS_LATE hands 10:30:00:00',
      'FRAME_RATE_UNLIKE kiln',
      'SOUND_COUNTED_AT_OTHER_RATE desk',
    ]);
  });
});

describe('a take', () => {
  it('that a recorder of the day is not in is told', () => {
    expect(find(threeTakesWithout('kiln', LATER))).toEqual(['RECORDER_MISSING_FROM_TAKE kiln 10:20:00:00']);
  });

  it('that only one recorder holds is told once, not for each that is missing', () => {
    expect(find([...threeTakes(), pictureClip({ recorder: 'hands', from: '10:40:00:00', length: 500 })])).toEqual([
      'TAKE_ON_ONE_RECORDER hands 10:40:00:00',
    ]);
  });

  it('of the only recorder there is gives none', () => {
    expect(find(threeTakes().filter((clip) => clip.recorder === 'wheel'))).toEqual([]);
  });

  it('without an occasional guest gives none, unless the policy expects it', () => {
    const takes = Array.from({ length: 6 }, (_, at) => followedTake(`10:${at}0:00:00`, 2400)).flat();
    const clips = [...takes, pictureClip({ recorder: 'porch', from: '10:00:00:00', length: 2400 })];
    expect(find(clips)).toEqual([]);
    const expected = groupBySync(clips, GroupingPolicy.parse({ expectedRecorders: ['porch'] }), CONTEXT);
    expect(told(expected)).toHaveLength(5);
  });

  it('may begin long before the others with one recorder: only who is late or short is told', () => {
    const early = pictureClip({ recorder: 'wheel', from: '10:19:00:00', length: 3000 });
    expect(find([...threeTakesWithout('wheel', '10:20:00:00'), early])).toEqual([]);
  });
});

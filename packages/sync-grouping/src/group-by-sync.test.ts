import type { Clip } from '@quayside/shoot';
import { RATES } from '@quayside/timecode';
import { describe, expect, it } from 'vitest';
import { groupBySync } from './group-by-sync.ts';
import { GroupingPolicy } from './grouping-policy.ts';
import { GroupingResult } from './grouping-result.ts';
import {
  CONTEXT,
  followedTake,
  group,
  memberOf,
  outline,
  pictureClip,
  soundClip,
  threeTakes,
  threeTakesWithout,
  told,
} from './pottery-class.test-support.ts';

// What recorders do on a set is the trade's common practice and has no published source; it is named where it is relied on.

const halves = (from: string, half: number): readonly Clip[] =>
  followedTake(from, half).map((clip, at) => ({ ...clip, id: `${clip.id}-${at}` }));

const strange = (name: string, facts: Partial<Clip['facts']>): Clip =>
  pictureClip({ recorder: 'wheel', from: '12:00:00:00', length: 100, name, facts });

describe('a clean shoot', () => {
  // Common practice: followers start a few frames after the clock recorder and stop a few after it; the switcher's recording and
  // the sound run through several takes.
  const mix = pictureClip({ recorder: 'mix', from: '09:59:00:00', length: 24 * 60 * 25 });
  const desk = soundClip({ recorder: 'desk', from: '09:58:00:00', length: 60 * 27 });
  const result = group([...threeTakes(), mix, desk]);

  it('gives a group for each take, with sound and program attached to each', () => {
    expect(outline(result)).toEqual([
      '10:00:00:00 desk*+0 hands+1 kiln+3 mix*+0 wheel+0 wide+2',
      '10:10:00:00 desk*+0 hands+1 kiln+3 mix*+0 wheel+0 wide+2',
      '10:20:00:00 desk*+0 hands+1 kiln+3 mix*+0 wheel+0 wide+2',
    ]);
  });

  it('gives no finding and leaves no clip out', () => {
    expect(result.findings).toEqual([]);
    expect(result.ungrouped).toEqual([]);
  });

  it('is sure of every place', () => {
    expect(new Set(result.groups.flatMap((one) => one.members.map((member) => member.confidence)))).toEqual(
      new Set(['sure']),
    );
  });

  it('says what part of a long recording belongs to each take', () => {
    const ranges = result.groups.map((one) => one.members.find((member) => member.recorder === 'desk')?.range);
    // The second take begins 720 labelled seconds into the sound: 720 x 1001/1000 x 48000 samples, for as long as 4803 frames of
    // 2002 samples (SMPTE ST 12-1 counting; 48 kHz at 24000/1001).
    expect(ranges[1]).toEqual({
      unit: 'samples',
      rate: { numerator: 48_000, denominator: 1 },
      from: 34_594_560,
      length: 9_615_606,
    });
    const pictures = result.groups.map((one) => one.members.find((member) => member.recorder === 'mix')?.range.from);
    expect(pictures).toEqual([1440, 15_840, 30_240]);
  });

  it('fits its own schema', () => {
    expect(GroupingResult.parse(result)).toEqual(result);
  });
});

describe('a group', () => {
  it('counts from the first picture, with its real time exact', () => {
    const [first] = group(threeTakes()).groups;
    // 10:00:00:00 at 24000/1001 is frame 864000 and 36036 s of real time (SMPTE ST 12-1; the EBU Tech 3285 value at 48 kHz is
    // 1 729 728 000 samples).
    expect(first?.start).toEqual({
      count: 864_000,
      timecode: '10:00:00:00',
      secondsOfDay: { numerator: 36_036, denominator: 1 },
    });
    expect(first?.lengthInFrames).toBe(2403);
    expect(first?.rate).toEqual({ name: '23.976', numerator: 24_000, denominator: 1001, isDropFrame: false });
  });

  it('gives offsets in frames, in samples and exactly', () => {
    const hands = memberOf(group(threeTakes()), 'hands');
    expect(hands.offsetInFrames).toBe(1);
    expect(hands.offsetInSamples).toBe(2002);
    expect(hands.offset).toEqual({ numerator: 1001, denominator: 24_000 });
  });

  it('tells in a sentence what each place rests on', () => {
    expect(memberOf(group(threeTakes()), 'wide').restsOn).toBe('Its own timecode 10:00:00:02 at 23.976.');
  });

  it('holds clips of drop-frame timecode by their true count', () => {
    const rate = RATES['29.97 DF'];
    const result = group([
      pictureClip({ recorder: 'wheel', from: '10:00:59;29', length: 900, rate }),
      pictureClip({ recorder: 'hands', from: '10:01:00;02', length: 900, rate }),
    ]);
    // SMPTE ST 12-1: the labels ;00 and ;01 do not exist in minute 1, so the two are one frame apart.
    expect(outline(result)).toEqual(['10:00:59;29 hands+1 wheel+0']);
    expect(result.findings).toEqual([]);
  });

  it('is one with a recorder that stopped and started again while the others ran on', () => {
    const parts = [
      pictureClip({ recorder: 'hands', from: '10:10:00:01', length: 2000 }),
      pictureClip({ recorder: 'hands', from: '10:12:00:01', length: 1922 }),
    ];
    const result = group([...threeTakes().filter((clip) => clip.path.slice(-12, -4) !== '10100001'), ...parts]);
    expect(outline(result)[1]).toBe('10:10:00:00 hands+1 hands+2881 kiln+3 wheel+0 wide+2');
    expect(told(result)).toEqual(['RECORDER_STOPPED_IN_TAKE hands 10:10:00:00']);
  });

  it('is one though every recorder split its files at the same time', () => {
    const result = group([...halves('10:00:00:00', 2400), ...halves('10:01:40:00', 2400)]);
    expect(result.groups).toHaveLength(1);
    expect(result.groups[0]?.members).toHaveLength(8);
    expect(result.findings).toEqual([]);
  });

  it('is not glued to the next by a camera that was left running', () => {
    const result = group([
      ...threeTakesWithout('wide'),
      pictureClip({ recorder: 'wide', from: '09:59:00:00', length: 24 * 60 * 25 }),
    ]);
    expect(outline(result)).toEqual([
      '10:00:00:00 hands+1 kiln+3 wheel+0 wide*+0',
      '10:10:00:00 hands+1 kiln+3 wheel+0 wide*+0',
      '10:20:00:00 hands+1 kiln+3 wheel+0 wide*+0',
    ]);
    expect(result.findings).toEqual([]);
  });

  it('takes in clips that one trigger started, however short they are', () => {
    const clips = [
      pictureClip({ recorder: 'wheel', from: '10:00:00:00', length: 1 }),
      pictureClip({ recorder: 'hands', from: '10:00:00:02', length: 1 }),
    ];
    expect(group(clips).groups).toHaveLength(1);
    const strict = groupBySync(clips, GroupingPolicy.parse({ triggerToleranceFrames: 1 }), CONTEXT);
    expect(strict.groups).toHaveLength(2);
  });

  it('is made of program and sound where no camera ran', () => {
    const result = group([
      ...threeTakes(),
      pictureClip({ recorder: 'mix', from: '11:00:00:00', length: 2400 }),
      soundClip({ recorder: 'desk', from: '09:58:00:00', length: 2 * 3600 }),
    ]);
    expect(outline(result)[3]).toBe('11:00:00:00 desk*+0 mix+0');
  });
});

describe('a small shoot', () => {
  it('of one camera and sound is a group', () => {
    const result = group([
      pictureClip({ recorder: 'wheel', from: '10:00:00:00', length: 2400 }),
      soundClip({ recorder: 'desk', from: '09:59:00:00', length: 300 }),
    ]);
    expect(outline(result)).toEqual(['10:00:00:00 desk+0 wheel+0']);
    expect(result.findings).toEqual([]);
  });

  it('of sound alone is counted at a rate that is said to be assumed', () => {
    const [only] = group([
      soundClip({
        recorder: 'desk',
        from: '10:00:00:00',
        length: 100,
        rate: RATES['25'],
        wave: { timecodeRate: null },
      }),
    ]).groups;
    expect([only?.start.timecode, only?.rateFrom]).toEqual(['10:00:00:00', 'assumed']);
  });

  it('of nothing is nothing', () => {
    expect(group([])).toEqual({ groups: [], ungrouped: [], findings: [] });
  });
});

describe('a clip in no group', () => {
  it('is listed with its reason', () => {
    const [sample] = threeTakes();
    const picture = sample?.facts.picture ?? null;
    const result = group([
      ...threeTakes(),
      strange('note.txt', { kind: 'other', picture: null }),
      strange('broken.mov', {
        kind: 'other',
        picture: null,
        damage: [{ kind: 'no-index', why: 'The index is missing.' }],
      }),
      strange('bare.mov', { startTimecode: null }),
      strange('odd.mov', { startTimecode: '10:00:00:24' }),
      strange('slow.mov', {
        picture: picture === null ? null : { ...picture, rate: { numerator: 15, denominator: 1 } },
      }),
      strange('empty.mov', { durationMs: null, picture: picture === null ? null : { ...picture, frameCount: null } }),
    ]);
    expect(result.ungrouped.map((one) => [one.clipId, one.code])).toEqual([
      ['wheel-1/bare.mov', 'NO_TIMECODE'],
      ['wheel-1/broken.mov', 'DAMAGED'],
      ['wheel-1/empty.mov', 'NO_LENGTH'],
      ['wheel-1/note.txt', 'NO_MEDIA'],
      ['wheel-1/odd.mov', 'BAD_TIMECODE'],
      ['wheel-1/slow.mov', 'NO_RATE'],
    ]);
    expect(outline(result)).toEqual(outline(group(threeTakes())));
  });
});

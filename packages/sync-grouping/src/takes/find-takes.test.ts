import { RATES } from '@quayside/timecode';
import { describe, expect, it } from 'vitest';
import type { PlacedClip } from '../clock/placed-clip.ts';
import { pictureClip } from '../pottery-class.test-support.ts';
import { recordedAt } from '../reading/recorded-at.ts';
import { TICKS_PER_SECOND } from '../ticks.ts';
import { findAllTakes } from './find-all-takes.ts';

const second = TICKS_PER_SECOND;
const tolerances = { triggerTicks: second / 12, followerTicks: second / 2, restartTicks: 60 * second };

/** A clip at 24 frames per second from one second to another. */
function clip(recorder: string, from: number, to: number): PlacedClip {
  const rate = RATES['24'];
  const picture = pictureClip({ recorder, from: '00:00:00:00', length: (to - from) * 24, rate, name: `${from}` });
  return {
    timed: {
      clip: picture,
      recordedAt: recordedAt(picture),
      unit: 'frames',
      unitRate: rate,
      length: (to - from) * 24,
      lengthTicks: (to - from) * second,
      rate,
      count: from * 24,
      ticks: from * second,
      ticksAtStampRate: null,
    },
    chain: 0,
    start: from * second,
    end: to * second,
    placedBy: 'timecode',
    confidence: 'sure',
    restsOn: '',
  };
}

function recordersOf(clips: readonly PlacedClip[]): string {
  const recorders = clips.map((one) => one.timed.clip.recorder);
  return recorders.toSorted((left, right) => left.localeCompare(right)).join(' ');
}

function takesOf(...clips: readonly PlacedClip[]): readonly string[] {
  return findAllTakes(clips, tolerances).map(({ start, end, own, passing }) => {
    return `${start / second}-${end / second} ${recordersOf(own)}${passing.length > 0 ? ` + ${recordersOf(passing)}` : ''}`;
  });
}

describe('takes of cameras', () => {
  it('end when all have stopped', () => {
    expect(takesOf(clip('wheel', 0, 10), clip('hands', 0, 10), clip('wheel', 11, 20), clip('hands', 11, 20))).toEqual([
      '0-10 hands wheel',
      '11-20 hands wheel',
    ]);
  });

  it('end when more have stopped and started again than ran on, however short the pause', () => {
    expect(
      takesOf(
        clip('wheel', 0, 10),
        clip('hands', 0, 10),
        clip('wide', 0, 30),
        clip('wheel', 12, 30),
        clip('hands', 12, 30),
      ),
    ).toEqual(['0-10 hands wheel + wide', '12-30 hands wheel + wide']);
  });

  it('go on while fewer have stopped than run on, however long the pause', () => {
    expect(
      takesOf(clip('wheel', 0, 1000), clip('wide', 0, 1000), clip('hands', 0, 10), clip('hands', 900, 1000)),
    ).toEqual(['0-1000 hands hands wheel wide']);
  });

  it('of two recorders end after a pause longer than a restart', () => {
    expect(takesOf(clip('wide', 0, 200), clip('wheel', 0, 50), clip('wheel', 105, 200))).toEqual([
      '0-200 wheel wheel wide',
    ]);
    expect(takesOf(clip('wide', 0, 200), clip('wheel', 0, 50), clip('wheel', 111, 200))).toEqual([
      '0-50 wheel + wide',
      '111-200 wheel + wide',
    ]);
  });

  it('are not held together by a straggler that reaches a few frames into the next', () => {
    const straggler = { ...clip('kiln', 0, 10), end: 10.4 * second };
    expect(
      takesOf(
        clip('wheel', 0, 10),
        straggler,
        { ...clip('wheel', 11, 20), start: 10.2 * second },
        clip('hands', 11, 20),
      )[0],
    ).toBe('0-10.4 kiln wheel');
  });

  it('leave the middle file of a long recording by itself when it meets none of them', () => {
    const long = [clip('wide', 0, 100), clip('wide', 100, 200), clip('wide', 200, 300)];
    expect(
      takesOf(...long, clip('wheel', 10, 50), clip('hands', 10, 50), clip('wheel', 250, 290), clip('hands', 250, 290)),
    ).toEqual(['10-50 hands wheel + wide', '100-200 wide', '250-290 hands wheel + wide']);
  });

  it('take in a clip of any number that overlap in one recorder', () => {
    const clips = Array.from({ length: 300 }, (_, at) => clip('wheel', at, at + 50));
    expect(findAllTakes(clips, tolerances)).toHaveLength(1);
  });
});

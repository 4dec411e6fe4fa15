import type { Clip } from '@quayside/shoot';
import { printLabel, RATES } from '@quayside/timecode';
import { describe, expect, it } from 'vitest';
import { groupBySync } from '../group-by-sync.ts';
import {
  CONTEXT,
  followedTake,
  group,
  memberOf,
  outline,
  pictureClip,
  POLICY,
  threeTakes,
  threeTakesWithout,
  told,
} from '../pottery-class.test-support.ts';

// What recorders do on a set is the trade's common practice and has no published source; it is named where it is relied on.

const find = (clips: readonly Clip[]): readonly string[] => told(group(clips));
// Common practice: equal timecode on two days is normal, and a file that starts at zero while the others do not is a recorder left on its
// own clock. At 24000/1001 the label 10:00:00:00 is 36036 s of real time, hence the dates.
const own = (label: string, length: number, date: string): Clip =>
  pictureClip({ recorder: 'kiln', from: label, length, date: `2026-11-25T${date}.000Z`, name: `${date}.mov` });
const off = (from: string, length: number): Clip => pictureClip({ recorder: 'kiln', from, length });

describe('a clock', () => {
  it('that begins each clip at zero is told, and its clips are placed by their dates', () => {
    const result = groupBySync(
      [
        ...threeTakesWithout('kiln'),
        own('00:00:00:00', 2400, '10:00:36'),
        own('00:00:00:00', 4800, '10:10:37'),
        own('00:00:00:00', 1200, '10:20:37'),
      ],
      POLICY,
      CONTEXT,
    );
    expect(told(result)).toEqual(['TIMECODE_FROM_ZERO kiln']);
    expect(result.groups.map((one) => one.members.length)).toEqual([4, 4, 4]);
    expect(memberOf(result, 'kiln').confidence).toBe('weak');
    expect(result.groups[0]?.start.timecode).toBe('10:00:00:00');
  });

  it('that began at zero and ran on by itself is told, and its clips are moved to the takes', () => {
    const result = groupBySync(
      [
        ...threeTakesWithout('kiln'),
        own('00:01:00:00', 2400, '10:00:36'),
        own('00:11:00:00', 4800, '10:10:37'),
        own('00:21:00:00', 1200, '10:20:37'),
      ],
      POLICY,
      CONTEXT,
    );
    expect(told(result)).toEqual(['TIMECODE_FROM_ZERO kiln']);
    expect(result.groups.map((one) => one.members.length)).toEqual([4, 4, 4]);
    expect(memberOf(result, 'kiln').placedBy).toBe('shifted');
  });

  it('that runs only while recording is told', () => {
    const result = groupBySync(
      [
        ...threeTakesWithout('kiln'),
        own('01:00:00:00', 2400, '10:00:36'),
        own('01:01:40:00', 4800, '10:10:37'),
        own('01:05:00:00', 1200, '10:20:37'),
      ],
      POLICY,
      CONTEXT,
    );
    expect(told(result)).toEqual(['TIMECODE_ONLY_WHILE_RECORDING kiln']);
    expect(result.groups.map((one) => one.members.length)).toEqual([4, 4, 4]);
  });

  it('that is an hour off is told, and its clips are moved to the takes', () => {
    const result = groupBySync(
      [
        ...threeTakesWithout('kiln'),
        own('11:00:00:00', 2400, '10:00:36'),
        own('11:10:00:00', 4800, '10:10:37'),
        own('11:20:00:00', 1200, '10:20:37'),
      ],
      POLICY,
      CONTEXT,
    );
    expect(told(result)).toEqual(['TIMECODE_OFFSET kiln']);
    expect(result.groups.map((one) => one.members.length)).toEqual([4, 4, 4]);
  });

  it('that is half a second and more off at both ends of several takes is told, not its late starts', () => {
    expect(
      find([
        ...threeTakesWithout('kiln'),
        off('10:00:00:20', 2400),
        off('10:10:00:21', 4800),
        off('10:20:00:20', 1200),
      ]),
    ).toEqual(['TIMECODE_OFFSET kiln']);
  });

  it('that is slow to start, but stops with the others, is in order', () => {
    expect(
      find([
        ...threeTakesWithout('kiln'),
        off('10:00:00:11', 2390),
        off('10:10:00:11', 4790),
        off('10:20:00:11', 1190),
      ]),
    ).toEqual([]);
  });

  it('that is as slow to stop as to start, but not quite, only starts late', () => {
    const late = ['10:00:00:00', '10:10:00:00', '10:20:00:00'].map((take) => `CLIP_STARTS_LATE kiln ${take}`);
    const unequal = [off('10:00:00:21', 2394), off('10:10:00:21', 4794), off('10:20:00:21', 1194)];
    expect(find([...threeTakesWithout('kiln'), ...unequal])).toEqual(late);
    const stopsInTime = [off('10:00:00:15', 2397), off('10:10:00:15', 4797), off('10:20:00:15', 1197)];
    expect(find([...threeTakesWithout('kiln'), ...stopsInTime])).toEqual(late);
  });

  it('whose offset puts its clips into the wrong takes is told, and they are moved to the right ones', () => {
    const rate = RATES['23.976'];
    let count = 864_000;
    const clips = [100, 130, 85, 160, 115, 95].flatMap((seconds) => {
      const from = count;
      count += (seconds + 8) * 24;
      const three = followedTake(printLabel(from, rate), seconds * 24).filter((clip) => clip.recorder !== 'kiln');
      return [...three, off(printLabel(from + 40 * 24, rate), seconds * 24)];
    });
    const result = group(clips);
    expect(told(result)).toEqual(['TIMECODE_OFFSET kiln']);
    expect(result.groups.map((one) => one.members.length)).toEqual([4, 4, 4, 4, 4, 4]);
  });

  it('that all recorders set to zero for each take is in order', () => {
    const takes = ['09:00', '09:20'].flatMap((time) =>
      followedTake('00:00:00:00', 2400, { date: `2026-11-25T${time}:00.000Z`, name: `${time}.mov` }),
    );
    const result = group(takes);
    expect(outline(result)).toEqual(Array(2).fill('00:00:00:00 hands+1 kiln+3 wheel+0 wide+2'));
    expect(memberOf(result, 'kiln').confidence).toBe('sure');
    expect(result.findings).toEqual([]);
  });

  it('that only the dates can stand in for never stretches a take', () => {
    const result = group([
      ...threeTakesWithout('kiln'),
      own('00:00:00:00', 2400, '10:00:36'),
      own('00:00:00:00', 4800, '10:10:37'),
    ]);
    expect(result.groups[0]?.start.timecode).toBe('10:00:00:00');
    expect(memberOf(result, 'kiln').range.from).toBeGreaterThan(0);
  });

  it('that drifts is told', () => {
    const rate = RATES['23.976'];
    const clips = Array.from({ length: 24 }, (_, at) => {
      const count = 864_000 + at * 14_400;
      // 20 ppm and more: a frame in every take.
      const kiln = pictureClip({ recorder: 'kiln', from: printLabel(count + at, rate), length: 2400 });
      return [...followedTake(printLabel(count, rate), 2400).filter((clip) => clip.recorder !== 'kiln'), kiln];
    }).flat();
    expect(find(clips)).toEqual(['TIMECODE_DRIFTS kiln']);
  });

  it('that is in order while its recorder runs alone gives none but that it did', () => {
    const alone = Array.from({ length: 4 }, (_, at) =>
      pictureClip({ recorder: 'hands', from: `10:0${at + 2}:00:00`, length: 900 }),
    );
    expect(find([...threeTakes(), ...alone])).toEqual(
      ['10:02', '10:03', '10:04', '10:05'].map((time) => `TAKE_ON_ONE_RECORDER hands ${time}:00:00`),
    );
  });
});

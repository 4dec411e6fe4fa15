import type { Clip } from '@quayside/shoot';
import { RATES } from '@quayside/timecode';
import { describe, expect, it } from 'vitest';
import { followedTake, group, outline, pictureClip, threeTakes, told } from '../pottery-class.test-support.ts';

// What recorders do on a set is the trade's common practice and has no published source; it is named where it is relied on.

const longDay = (): readonly Clip[] => [
  ...followedTake('09:00:00:00', 2400),
  ...followedTake('14:00:00:00', 2400),
  ...followedTake('23:50:00:00', 2400),
];

describe('days', () => {
  it('keep equal timecode apart', () => {
    // Common practice: a clock recorder that is preset to zero begins each day at 00:00:00:00.
    const result = group([
      ...followedTake('00:00:00:00', 2400, { date: '2026-11-25T09:00:00.000Z' }),
      ...followedTake('00:00:00:00', 2400, { date: '2026-11-26T09:30:00.000Z' }),
    ]);
    expect(result.groups.map((one) => [one.day.date, one.members.length])).toEqual([
      ['2026-11-25', 4],
      ['2026-11-26', 4],
    ]);
    expect(result.findings).toEqual([]);
  });

  it('keep equal timecode apart when one recorder was there on the second only', () => {
    const second = followedTake('00:00:00:00', 2400, { date: '2026-11-26T09:30:00.000Z' });
    const first = followedTake('00:00:00:00', 2400, { date: '2026-11-25T09:00:00.000Z' });
    const result = group([...first.filter((clip) => clip.recorder !== 'kiln'), ...second]);
    expect(result.groups.map((one) => one.members.length)).toEqual([3, 4]);
  });

  it('keep apart two halves of a day when the clock was preset again at lunch', () => {
    const result = group([
      ...followedTake('00:10:00:00', 2400, { date: '2026-11-25T09:10:00.000Z' }),
      ...followedTake('00:10:10:00', 2400, { date: '2026-11-25T14:10:00.000Z' }),
    ]);
    expect(result.groups.map((one) => one.members.length)).toEqual([4, 4]);
    expect(result.findings).toEqual([]);
  });

  it('do not part a take that runs past midnight', () => {
    // SMPTE ST 12-1: 23:59:59:23 is followed by 00:00:00:00.
    const rate = RATES['24'];
    const result = group([
      ...followedTake('23:58:00:00', 24 * 240, { rate, date: '2026-11-25T23:58:00.000Z' }),
      pictureClip({ recorder: 'porch', from: '00:00:01:00', length: 24 * 100, rate, date: '2026-11-26T00:00:01.000Z' }),
    ]);
    expect(outline(result)).toEqual(['23:58:00:00 hands+1 kiln+3 porch+2904 wheel+0 wide+2']);
  });

  it('follow a session past midnight', () => {
    const rate = RATES['24'];
    const result = group([
      ...followedTake('23:50:00:00', 2400, { rate, date: '2026-11-25T23:50:00.000Z' }),
      ...followedTake('00:05:00:00', 2400, { rate, date: '2026-11-26T00:05:00.000Z' }),
    ]);
    expect(outline(result)).toEqual([
      '23:50:00:00 hands+1 kiln+3 wheel+0 wide+2',
      '00:05:00:00 hands+1 kiln+3 wheel+0 wide+2',
    ]);
    expect(result.findings).toEqual([]);
  });

  it('put up with a calendar in another zone', () => {
    const zoned = threeTakes().map((clip): Clip => {
      if (clip.recorder !== 'kiln' || clip.facts.created === null) return clip;
      const at = new Date(Date.parse(clip.facts.created.at) - 5 * 3_600_000).toISOString();
      return { ...clip, facts: { ...clip.facts, created: { at, zone: 'unknown' } } };
    });
    expect(outline(group(zoned))).toEqual(outline(group(threeTakes())));
    expect(group(zoned).findings).toEqual([]);
  });

  it('put up with a flat calendar battery, and say so', () => {
    const dated = threeTakes().map((clip): Clip =>
      clip.recorder === 'kiln'
        ? {
            ...clip,
            facts: {
              ...clip.facts,
              created: { at: clip.facts.created?.at.replace('2026-11-25', '2016-01-01') ?? '', zone: 'unknown' },
            },
          }
        : clip,
    );
    expect(outline(group(dated))).toEqual(outline(group(threeTakes())));
    expect(told(group(dated))).toEqual(['DATE_FAR_FROM_SHOOT kiln']);
  });
});

describe('dates that tell nothing', () => {
  it('leave the groups to the timecode: no creation date', () => {
    const undated = longDay().map((clip) => ({ ...clip, facts: { ...clip.facts, created: null } }));
    expect(outline(group(undated))).toEqual(outline(group(longDay())));
    expect(group(undated).findings).toEqual([]);
  });

  it('leave the groups to the timecode: all files of one moment', () => {
    const copied = longDay().map((clip) => ({
      ...clip,
      modifiedAt: '2026-11-26T08:00:00.000Z',
      facts: { ...clip.facts, created: null },
    }));
    expect(outline(group(copied)).toSorted()).toEqual(outline(group(longDay())).toSorted());
    expect(group(copied).findings).toEqual([]);
  });
});

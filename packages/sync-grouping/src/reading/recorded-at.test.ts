import { describe, expect, it } from 'vitest';
import type { Clip } from '@quayside/shoot';
import { pictureClip, soundClip } from '../pottery-class.test-support.ts';
import { recordedAt } from './recorded-at.ts';

const dated = (at: string, zone: 'utc' | 'offset' | 'unknown'): Clip =>
  pictureClip({
    recorder: 'wheel',
    from: '10:00:00:00',
    length: 240,
    date: '2026-11-25T10:00:00.000Z',
    facts: { created: { at, zone } },
  });

describe('when a clip was recorded', () => {
  it.each([
    ['2026-11-25T10:00:00.000Z', 'utc', '2026-11-25T10:00:00.000Z', '2026-11-25', true],
    ['2026-11-26T01:30:00+11:00', 'offset', '2026-11-25T14:30:00.000Z', '2026-11-26', true],
    ['2026-11-25T20:30:00.5-0530', 'offset', '2026-11-26T02:00:00.500Z', '2026-11-25', true],
    ['2026-11-25 10:00:00', 'unknown', '2026-11-25T10:00:00.000Z', '2026-11-25', false],
  ] as const)('is read from %s', (...[at, zone, utc, date, isCertain]) => {
    expect(recordedAt(dated(at, zone))).toEqual({ ms: Date.parse(utc), date, isCertain });
  });

  it.each(['1904-01-01T00:00:00Z', '1970-01-01T00:00:00Z', 'yesterday'])(
    'is not %s, but the modification less the duration',
    (at) => {
      // 240 frames at 24000/1001 last 10.01 s.
      expect(recordedAt(dated(at, 'utc'))).toEqual({
        ms: Date.parse('2026-11-25T10:00:00.000Z'),
        date: '2026-11-25',
        isCertain: false,
      });
    },
  );

  it('is the origination date of a broadcast wave that has no other', () => {
    const wave = { originatedAt: '2026-11-24T23:00:00' };
    const clip = soundClip({ recorder: 'desk', from: '10:00:00:00', length: 10, wave });
    expect(recordedAt({ ...clip, facts: { ...clip.facts, created: null } }).date).toBe('2026-11-24');
  });
});

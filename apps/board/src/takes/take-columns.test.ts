import type { Group } from '../service/look-at-shoot.ts';
import { expect, it } from 'vitest';
import { syncMap } from './take-columns.ts';
import { showTime } from './time-in-take.ts';

const MEMBER: Group['members'][number] = {
  clipId: 'wheel-1/a.mov',
  recorder: 'wheel',
  role: 'camera',
  offset: { numerator: 0, denominator: 1 },
  offsetInFrames: 0,
  offsetInSamples: 0,
  sampleRate: 48_000,
  range: { unit: 'frames', rate: { numerator: 25, denominator: 1 }, from: 0, length: 500 },
  isShared: false,
  placedBy: 'timecode',
  confidence: 'sure',
  restsOn: 'Its own timecode.',
};

const GROUP: Group = {
  id: 'g-1',
  day: { date: '2026-11-25', isCertain: true },
  rate: { numerator: 25, denominator: 1, name: '25', isDropFrame: false },
  rateFrom: 'pictures',
  start: { count: 900_000, timecode: '10:00:00:00', secondsOfDay: { numerator: 36_000, denominator: 1 } },
  lengthInFrames: 500,
  members: [
    MEMBER,
    {
      ...MEMBER,
      clipId: 'desk-1/a.wav',
      recorder: 'desk',
      role: 'sound',
      offset: { numerator: 5, denominator: 1 },
      range: { unit: 'samples', rate: { numerator: 48_000, denominator: 1 }, from: 0, length: 480_000 },
      confidence: 'weak',
    },
  ],
  editableAt: [],
  unproven: { primary: 2, backup: 1 },
};

it('places each recorder within the take, in shares of its length and in words', () => {
  const { recorders, takes } = syncMap([GROUP], ['kiln']);
  expect(recorders).toEqual(['desk', 'kiln', 'wheel']);
  expect(takes[0]).toMatchObject({
    number: 1,
    timecode: '10:00:00:00',
    length: '0:20',
    editable: '1 clip still to prove',
    isEditable: false,
  });
  expect(takes[0]?.bars.get('wheel')).toEqual([{ from: 0, to: 1, words: 'ran 0:20', isWeak: false }]);
  expect(takes[0]?.bars.get('desk')).toEqual([
    { from: 0.25, to: 0.75, words: 'ran 0:10, 5.0 s late, place unsure', isWeak: true },
  ]);
  expect(takes[0]?.bars.has('kiln')).toBe(false);
});

it('says where a take can be edited', () => {
  const editable = { ...GROUP, editableAt: ['backup', 'primary'], unproven: {} };
  expect(syncMap([editable], []).takes[0]).toMatchObject({
    editable: 'Edit from backup and primary',
    isEditable: true,
  });
});

it('does not divide by a take without length', () => {
  const empty = { ...GROUP, lengthInFrames: 0, members: [MEMBER] };
  expect(syncMap([empty], []).takes[0]?.bars.get('wheel')).toMatchObject([{ from: 0, to: 0 }]);
});

it.each([
  [3.04, '3.0 s'],
  [65, '1:05'],
  [3_725, '1:02:05'],
])('%d seconds into a take are %s', (seconds, words) => {
  expect(showTime(seconds)).toBe(words);
});

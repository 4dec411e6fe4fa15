import { expect, it } from 'vitest';
import { shootDay } from './choose-shoot.ts';

const local = (text: string): number => new Date(text).getTime();

it.each([
  ['2026-11-25T18:00:00', '2026-11-25', 'an evening belongs to its own day'],
  ['2026-11-26T01:30:00', '2026-11-25', 'one in the morning belongs to the evening before'],
  ['2026-11-26T03:59:59', '2026-11-25', 'the last second before the boundary too'],
  ['2026-11-26T04:00:00', '2026-11-26', 'at the boundary a new day begins'],
  ['2027-01-01T00:30:00', '2026-12-31', 'over the turn of the year'],
  ['2028-03-01T02:00:00', '2028-02-29', 'over a leap day'],
])('%s is filed under %s: %s', (moment, day) => {
  expect(shootDay(local(moment), '04:00')).toBe(day);
});

it('a boundary at midnight is the calendar day', () => {
  expect(shootDay(local('2026-11-26T00:00:00'), '00:00')).toBe('2026-11-26');
});

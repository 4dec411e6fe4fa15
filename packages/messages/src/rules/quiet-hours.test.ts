import fc from 'fast-check';
import { expect, it } from 'vitest';
import { endOfQuiet, QuietHours } from './quiet-hours.ts';

const NIGHT = { from: '22:00', to: '07:00' };
const at = (moment: string): number => Date.parse(moment);
const end = (moment: string, hours: { from: string; to: string }, zone: string): string =>
  new Date(endOfQuiet(at(moment), hours, zone)).toISOString();

it.each([
  ['in the evening it lasts over midnight', '2026-03-01T22:30:00.000Z', NIGHT, 'UTC', '2026-03-02T07:00:00.000Z'],
  ['after midnight it ends the same day', '2026-03-02T03:00:59.999Z', NIGHT, 'UTC', '2026-03-02T07:00:00.000Z'],
  ['its first minute is quiet', '2026-03-01T22:00:00.000Z', NIGHT, 'UTC', '2026-03-02T07:00:00.000Z'],
  ['its last minute is over', '2026-03-01T07:00:00.000Z', NIGHT, 'UTC', '2026-03-01T07:00:00.000Z'],
  ['within one day', '2026-03-01T13:10:00.000Z', { from: '13:00', to: '14:30' }, 'UTC', '2026-03-01T14:30:00.000Z'],
  // Offsets and changes as in the IANA time zone database: Berlin is UTC+1, and UTC+2 from 29 March to 25 October 2026.
  ['in a zone of its own', '2026-01-10T21:30:00.000Z', NIGHT, 'Europe/Berlin', '2026-01-11T06:00:00.000Z'],
  ['with an odd offset', '2026-01-10T18:00:00.000Z', NIGHT, 'Asia/Kathmandu', '2026-01-11T01:15:00.000Z'],
  [
    'in the night that is an hour short',
    '2026-03-28T22:00:00.000Z',
    NIGHT,
    'Europe/Berlin',
    '2026-03-29T05:00:00.000Z',
  ],
  ['in the night that is an hour long', '2026-10-24T21:00:00.000Z', NIGHT, 'Europe/Berlin', '2026-10-25T06:00:00.000Z'],
  // 02:30 does not happen: the clock goes from 02:00 to 03:00.
  [
    'an end that the clock leaves out',
    '2026-03-29T00:30:00.000Z',
    { from: '01:00', to: '02:30' },
    'Europe/Berlin',
    '2026-03-29T01:00:00.000Z',
  ],
])('%s', (...[, moment, hours, zone, expected]) => {
  expect(end(moment, hours, zone)).toBe(expected);
});

it('at any time, in any zone: it ends outside the quiet hours, with nothing but quiet before, within 25 hours', () => {
  const zones = ['UTC', 'Europe/Berlin', 'America/New_York', 'Australia/Lord_Howe', 'Asia/Kathmandu', 'Pacific/Apia'];
  const given = fc.record({
    start: fc.integer({ min: at('2026-01-01T00:00:00Z'), max: at('2027-01-01T00:00:00Z') }),
    from: fc.integer({ min: 0, max: 1439 }),
    to: fc.integer({ min: 0, max: 1439 }),
    timeZone: fc.constantFrom(...zones),
    between: fc.double({ min: 0, max: 1, noNaN: true }),
  });
  fc.assert(
    fc.property(given, ({ start, from, to, timeZone, between }) => {
      fc.pre(from !== to);
      const isQuiet = (ms: number): boolean => isIn(minuteOf(ms, timeZone), from, to);
      const over = endOfQuiet(start, { from: text(from), to: text(to) }, timeZone);
      expect(isQuiet(over)).toBe(false);
      expect(over - start).toBeLessThanOrEqual(25 * 3_600_000);
      if (over === start) return;
      expect(isQuiet(start)).toBe(true);
      expect(isQuiet(start + Math.floor((over - 1 - start) * between))).toBe(true);
    }),
    { numRuns: 300 },
  );
});

it('one time for both ends is refused', () => {
  expect(QuietHours.safeParse({ from: '07:00', to: '07:00' }).success).toBe(false);
});

/** Minutes since local midnight, read in another way than the code does. */
function minuteOf(ms: number, timeZone: string): number {
  const [, hours = '', minutes = ''] =
    /(\d\d):(\d\d):\d\d/.exec(new Date(ms).toLocaleString('sv-SE', { timeZone })) ?? [];
  return Number(hours) * 60 + Number(minutes);
}

function isIn(minute: number, from: number, to: number): boolean {
  return (minute - from + 1440) % 1440 < (to - from + 1440) % 1440;
}

function text(minute: number): string {
  return `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;
}

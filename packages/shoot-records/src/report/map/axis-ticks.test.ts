import { countAtLabel, type Rate, RATES } from '@quayside/timecode';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { axisTicks } from './axis-ticks.ts';

function ticksFrom(label: string, lengthInFrames: number, rate: Rate): ReturnType<typeof axisTicks> {
  return axisTicks({ count: countAtLabel(label, rate), lengthInFrames, rate }, 4);
}

it('stand at round labels', () => {
  expect(ticksFrom('10:00:50:00', 24 * 180, RATES['24'])).toEqual([
    { share: 10 / 180, label: '10:01' },
    { share: 70 / 180, label: '10:02' },
    { share: 130 / 180, label: '10:03' },
  ]);
  expect(ticksFrom('10:00:00:12', 25 * 4, RATES['25']).map((tick) => tick.label)).toEqual([
    '10:00:01',
    '10:00:02',
    '10:00:03',
    '10:00:04',
  ]);
});

it('go on over midnight', () => {
  expect(ticksFrom('23:58:30:00', 25 * 240, RATES['25']).map((tick) => tick.label)).toEqual([
    '23:59',
    '00:00',
    '00:01',
    '00:02',
  ]);
  expect(ticksFrom('20:00:00:00', 25 * 3600 * 20, RATES['25'])).toEqual([
    { share: 4 / 20, label: '00:00' },
    { share: 10 / 20, label: '06:00' },
    { share: 16 / 20, label: '12:00' },
  ]);
});

it('where drop frame skips the label, stand within a tenth of a second of it', () => {
  const ticks = ticksFrom('10:00:30;00', 30 * 60, RATES['29.97 DF']);
  const skipped = ticks.find((tick) => tick.label === '10:01:00');
  expect(Math.abs((skipped?.share ?? 0) * 60 - 30)).toBeLessThan(0.1);
});

it('are never more than asked for and one, rise, and lie within the stretch', () => {
  const rates = fc.constantFrom(...Object.values(RATES));
  fc.assert(
    fc.property(rates, fc.nat(2_000_000), fc.integer({ min: 1, max: 9_000_000 }), (rate, count, lengthInFrames) => {
      const shares = axisTicks({ count, lengthInFrames, rate }, 6).map((tick) => tick.share);
      expect(shares.length).toBeLessThanOrEqual(7);
      expect(shares).toEqual(shares.toSorted((left, right) => left - right));
      expect(shares.every((share) => share >= 0 && share <= 1)).toBe(true);
    }),
  );
});

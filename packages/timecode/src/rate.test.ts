import { describe, expect, it } from 'vitest';
import { RATES, type RateName } from './rate.ts';
import { samplesAt } from './audio-samples.ts';

describe('the table of rates', () => {
  // SMPTE ST 12-1 rates with their exact fractions; labels a day and 48 kHz samples a frame follow by arithmetic.
  const rows: readonly (readonly [RateName, string, number, number, number, string])[] = [
    ['23.976', '24000/1001', 24, 0, 2_073_600, '2002/1'],
    ['24', '24/1', 24, 0, 2_073_600, '2000/1'],
    ['25', '25/1', 25, 0, 2_160_000, '1920/1'],
    ['29.97 NDF', '30000/1001', 30, 0, 2_592_000, '8008/5'],
    ['29.97 DF', '30000/1001', 30, 2, 2_589_408, '8008/5'],
    ['30', '30/1', 30, 0, 2_592_000, '1600/1'],
    ['47.952', '48000/1001', 48, 0, 4_147_200, '1001/1'],
    ['50', '50/1', 50, 0, 4_320_000, '960/1'],
    ['59.94 NDF', '60000/1001', 60, 0, 5_184_000, '4004/5'],
    ['59.94 DF', '60000/1001', 60, 4, 5_178_816, '4004/5'],
    ['60', '60/1', 60, 0, 5_184_000, '800/1'],
    ['100', '100/1', 100, 0, 8_640_000, '480/1'],
    ['119.88 NDF', '120000/1001', 120, 0, 10_368_000, '2002/5'],
    ['119.88 DF', '120000/1001', 120, 8, 10_357_632, '2002/5'],
    ['120', '120/1', 120, 0, 10_368_000, '400/1'],
  ];

  it.each(rows)('has %s as exactly %s with its base, drop, labels a day and samples a frame', (...row) => {
    const [name, fraction, base, drop, labelsPerDay, samples] = row;
    const rate = RATES[name];
    const perFrame = samplesAt(1, rate, 48_000);
    expect(rate).toMatchObject({ name, base, drop, labelsPerDay });
    expect(`${rate.numerator}/${rate.denominator}`).toBe(fraction);
    expect(`${perFrame.numerator}/${perFrame.denominator}`).toBe(samples);
  });

  it('names every rate by its own key', () => {
    expect(Object.entries(RATES).map(([key, rate]) => key === rate.name)).not.toContain(false);
  });
});

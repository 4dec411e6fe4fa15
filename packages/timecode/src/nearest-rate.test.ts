import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestRate } from './nearest-rate.ts';
import { rateFrom } from './rate-from.ts';
import { RATES } from './rate.ts';

const everyRate = fc.constantFrom(...Object.values(RATES));

describe('an exact fraction', () => {
  it('gives back every rate of the table, also out of lowest terms', () => {
    fc.assert(
      fc.property(everyRate, fc.integer({ min: 1, max: 1_000_000 }), (rate, factor) => {
        const fraction = { numerator: rate.numerator * factor, denominator: rate.denominator * factor };
        expect(rateFrom(fraction, rate.drop > 0 ? 'DF' : 'NDF')).toEqual({ ok: true, rate });
      }),
    );
  });

  it.each([
    [{ numerator: 2997, denominator: 100 }, 'RATE_UNKNOWN'],
    [{ numerator: 15, denominator: 1 }, 'RATE_UNKNOWN'],
    [{ numerator: 0, denominator: 0 }, 'RATE_MALFORMED'],
    [{ numerator: 0, denominator: 1 }, 'RATE_MALFORMED'],
    [{ numerator: 30, denominator: 0 }, 'RATE_MALFORMED'],
    [{ numerator: -25, denominator: -1 }, 'RATE_MALFORMED'],
    [{ numerator: 29.97, denominator: 1 }, 'RATE_MALFORMED'],
    [{ numerator: Number.NaN, denominator: 1 }, 'RATE_MALFORMED'],
    [{ numerator: 2 ** 60, denominator: 2 ** 55 }, 'RATE_MALFORMED'],
  ])('that is %j is refused as %s', (fraction, code) => {
    expect(rateFrom(fraction)).toMatchObject({ ok: false, fault: { code } });
  });

  it('with drop frame is refused where drop frame is not defined', () => {
    const refused = ['24', '25', '23.976', '47.952', '48', '50', '100'] as const;
    for (const name of refused) {
      expect(rateFrom(RATES[name], 'DF')).toMatchObject({ ok: false, fault: { code: 'RATE_HAS_NO_DROP_FRAME' } });
    }
  });
});

describe('a rounded reading', () => {
  it.each([
    ['23.976', '23.976', false],
    ['23.98', '23.976', false],
    [23.976, '23.976', false],
    [24_000 / 1001, '23.976', false],
    ['24', '24', true],
    ['24.000', '24', true],
    [25, '25', true],
    ['25/1', '25', true],
    ['29.97', '29.97 NDF', false],
    ['30000/1001', '29.97 NDF', true],
    ['2997/100', '29.97 NDF', false],
    [{ numerator: 2997, denominator: 100 }, '29.97 NDF', false],
    ['30.000', '30', true],
    ['47.95', '47.952', false],
    ['47.952', '47.952', false],
    ['50.0', '50', true],
    ['59.94', '59.94 NDF', false],
    ['59.9400599400599400599400599', '59.94 NDF', false],
    ['100', '100', true],
    ['119.88', '119.88 NDF', false],
    ['120/1', '120', true],
  ])('of %j stands for %s', (reading, name, isExact) => {
    expect(nearestRate(reading)).toMatchObject({ ok: true, rate: { name }, isExact });
  });

  it('takes the drop-frame rate when told so', () => {
    expect(nearestRate('29.97', 'DF')).toMatchObject({ ok: true, rate: { name: '29.97 DF' } });
    expect(nearestRate('59.94', 'DF')).toMatchObject({ ok: true, rate: { name: '59.94 DF' } });
    expect(nearestRate('119.88', 'DF')).toMatchObject({ ok: true, rate: { name: '119.88 DF' } });
    expect(nearestRate('23.98', 'DF')).toMatchObject({ ok: false, fault: { code: 'RATE_HAS_NO_DROP_FRAME' } });
  });

  it('is taken up to 250 parts per million off and not one step further', () => {
    expect(nearestRate({ numerator: 25_006_250, denominator: 1_000_000 })).toMatchObject({ ok: true });
    expect(nearestRate({ numerator: 25_006_251, denominator: 1_000_000 })).toMatchObject({ ok: false });
    expect(nearestRate({ numerator: 24_993_750, denominator: 1_000_000 })).toMatchObject({ ok: true });
    expect(nearestRate({ numerator: 24_993_749, denominator: 1_000_000 })).toMatchObject({ ok: false });
  });

  it('of whatever text is a rate or a fault with a code, never an exception', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.string({ unit: 'binary' }), fc.double(), fc.integer()), (reading) => {
        const found = nearestRate(reading);
        if (!found.ok) expect(found.fault.code).toMatch(/^RATE_(MALFORMED|UNKNOWN)$/);
      }),
    );
  });

  it.each([
    '',
    '0',
    '-25',
    '+25',
    ' 25',
    '25 ',
    '25fps',
    '2.5e1',
    '0x19',
    '٢٥',
    '25,0',
    '25.',
    '.25',
    '1/0',
    '0/0',
    'NaN',
  ])('of %j is refused', (reading) => {
    expect(nearestRate(reading)).toMatchObject({ ok: false, fault: { code: 'RATE_MALFORMED' } });
  });

  it.each(['12', '15', '29.98', '24.5', '240', '999.999'])('of %j stands for no rate', (reading) => {
    expect(nearestRate(reading)).toMatchObject({ ok: false, fault: { code: 'RATE_UNKNOWN' } });
  });

  it('quotes foreign text cut and escaped', () => {
    const found = nearestRate(`25\u0007${'x'.repeat(1000)}`);
    if (found.ok) throw new Error('it was taken');
    expect(found.fault.sentence).toContain('"25\\u0007xxx');
    expect(found.fault.sentence.length).toBeLessThan(250);
  });
});

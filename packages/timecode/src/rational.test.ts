import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { approximateForDisplay, printDecimal } from './display.ts';
import {
  addRationals,
  compareRationals,
  divideRationals,
  floorOf,
  multiplyRationals,
  rational,
  subtractRationals,
} from './rational.ts';

/** Parts whose products pass 2^53, so that the whole-number and the big-integer path are both taken. */
const part = fc.oneof(fc.integer({ min: -5000, max: 5000 }), fc.integer({ min: -(2 ** 40), max: 2 ** 40 }));
const fraction = fc
  .tuple(
    part,
    part.filter((value) => value !== 0),
  )
  .map(([numerator, denominator]) => rational(numerator, denominator));
const small = fc
  .tuple(fc.integer({ min: -99_999, max: 99_999 }), fc.integer({ min: 1, max: 99_999 }))
  .map(([numerator, denominator]) => rational(numerator, denominator));

describe('a fraction', () => {
  it('is in lowest terms with a positive denominator, and never minus zero', () => {
    expect(rational(-30_000, -1001)).toEqual({ numerator: 30_000, denominator: 1001 });
    expect(rational(6, -4)).toEqual({ numerator: -3, denominator: 2 });
    expect(rational(-0, -5)).toEqual({ numerator: 0, denominator: 1 });
    expect(rational(-0, 5)).toEqual({ numerator: 0, denominator: 1 });
    expect(rational(2n ** 70n, 2n ** 60n)).toEqual({ numerator: 1024, denominator: 1 });
  });

  it('over nothing, of broken numbers, or beyond exact numbers is refused', () => {
    expect(() => rational(1, 0)).toThrowError(expect.objectContaining({ code: 'DIVISION_BY_ZERO' }));
    expect(() => divideRationals(rational(1), rational(0))).toThrowError(
      expect.objectContaining({ code: 'DIVISION_BY_ZERO' }),
    );
    expect(() => rational(29.97)).toThrowError(expect.objectContaining({ code: 'NUMBER_NOT_WHOLE' }));
    expect(() => addRationals({ numerator: 0.5, denominator: 1 }, rational(1))).toThrowError(
      expect.objectContaining({ code: 'NUMBER_NOT_WHOLE' }),
    );
    expect(() => multiplyRationals(rational(2 ** 40), rational(2 ** 40))).toThrowError(
      expect.objectContaining({ code: 'NUMBER_TOO_LARGE' }),
    );
  });

  it('obeys the laws of arithmetic', () => {
    fc.assert(
      fc.property(small, small, small, (a, b, c) => {
        expect(addRationals(a, b)).toEqual(addRationals(b, a));
        expect(subtractRationals(addRationals(a, b), b)).toEqual(a);
        expect(multiplyRationals(a, b)).toEqual(multiplyRationals(b, a));
        if (b.numerator !== 0) expect(divideRationals(multiplyRationals(a, b), b)).toEqual(a);
        expect(compareRationals(a, b) < 0).toBe(compareRationals(addRationals(a, c), addRationals(b, c)) < 0);
      }),
      { numRuns: 2000 },
    );
  });

  it('compares and floors as big integers do, however large its parts', () => {
    fc.assert(
      fc.property(fraction, fraction, (a, b) => {
        const [left, right] = [
          BigInt(a.numerator) * BigInt(b.denominator),
          BigInt(b.numerator) * BigInt(a.denominator),
        ];
        expect(compareRationals(a, b)).toBe(left < right ? -1 : left > right ? 1 : 0);
        const floor = BigInt(floorOf(a));
        expect(floor * BigInt(a.denominator) <= BigInt(a.numerator)).toBe(true);
        expect((floor + 1n) * BigInt(a.denominator) > BigInt(a.numerator)).toBe(true);
      }),
      { numRuns: 3000 },
    );
  });
});

describe('a fraction on display', () => {
  it.each([
    [rational(1, 3), 3, '0.333'],
    [rational(2, 3), 3, '0.667'],
    [rational(1, 2), 0, '1'],
    [rational(-1, 2), 0, '-1'],
    [rational(-1, 3), 0, '0'],
    [rational(-1, 1000), 3, '-0.001'],
    [rational(30_000, 1001), 6, '29.970030'],
    [rational(2 ** 52 + 1, 1), 2, '4503599627370497.00'],
  ])('%j with %i places is %s', (value, places, text) => {
    expect(printDecimal(value, places)).toBe(text);
  });

  it('is the nearest float only where that is asked for by name', () => {
    expect(approximateForDisplay(rational(1, 4))).toBe(0.25);
  });
});

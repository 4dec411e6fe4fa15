import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addExactly, floorDivide, modulo, multiplyExactly, toSafeNumber } from './exact-integers.ts';

/** Whole numbers up to the last safe one, with the neighbourhood of the limit met often. */
const whole = fc.oneof(
  fc.maxSafeInteger(),
  fc.integer(),
  fc.integer({ min: Number.MAX_SAFE_INTEGER - 9, max: Number.MAX_SAFE_INTEGER }),
  fc.integer({ min: Number.MIN_SAFE_INTEGER, max: Number.MIN_SAFE_INTEGER + 9 }),
);
const positive = fc.oneof(fc.integer({ min: 1 }), fc.integer({ min: 1, max: Number.MAX_SAFE_INTEGER }));

describe('whole numbers', () => {
  it('add and multiply as big integers do, on both sides of 2^53', () => {
    fc.assert(
      fc.property(whole, whole, (left, right) => {
        expect(BigInt(multiplyExactly(left, right))).toBe(BigInt(left) * BigInt(right));
        expect(BigInt(addExactly(left, right))).toBe(BigInt(left) + BigInt(right));
      }),
      { numRuns: 3000 },
    );
  });

  it('divide downwards, below zero too, however large', () => {
    const dividend = fc.oneof(whole, fc.bigInt({ min: -(2n ** 90n), max: 2n ** 90n }));
    fc.assert(
      fc.property(dividend, positive, (given, divisor) => {
        const floor = BigInt(floorDivide(given, divisor));
        expect(floor * BigInt(divisor) <= BigInt(given)).toBe(true);
        expect((floor + 1n) * BigInt(divisor) > BigInt(given)).toBe(true);
      }),
      { numRuns: 3000 },
    );
  });

  it('are never minus zero', () => {
    expect(floorDivide(-0, 5)).toBe(0);
    expect(modulo(-0, 5)).toBe(0);
    expect(modulo(-10, 5)).toBe(0);
  });

  it('beyond 2^53 have no number', () => {
    expect(toSafeNumber(2n ** 53n - 1n)).toBe(Number.MAX_SAFE_INTEGER);
    for (const beyond of [2n ** 53n, -(2n ** 53n), 2n ** 64n - 1n]) {
      expect(() => toSafeNumber(beyond)).toThrowError(expect.objectContaining({ code: 'NUMBER_TOO_LARGE' }));
    }
  });
});

import { TimecodeError } from './timecode-fault.ts';

/** A whole number that is certainly exact: a safe `number`, or a `bigint` of any size. */
export type Exact = number | bigint;

/** The exact product. A product of whole numbers that comes out safe was not rounded: rounding starts at 2^53. */
export function multiplyExactly(left: Exact, right: Exact): Exact {
  if (typeof left === 'number') demandWhole(left, 'factor');
  if (typeof right === 'number') demandWhole(right, 'factor');
  if (typeof left === 'number' && typeof right === 'number') {
    const product = left * right;
    if (Number.isSafeInteger(product)) return product;
  }
  return BigInt(left) * BigInt(right);
}

/** The exact sum; the same proof as for products. */
export function addExactly(left: Exact, right: Exact): Exact {
  if (typeof left === 'number') demandWhole(left, 'summand');
  if (typeof right === 'number') demandWhole(right, 'summand');
  if (typeof left === 'number' && typeof right === 'number') {
    const sum = left + right;
    if (Number.isSafeInteger(sum)) return sum;
  }
  return BigInt(left) + BigInt(right);
}

/** The largest whole number that is not above `dividend / divisor`, for a positive divisor. Never divides with a fraction. */
export function floorDivide(dividend: Exact, divisor: Exact): Exact {
  if (typeof dividend === 'number' && typeof divisor === 'number') {
    const whole = dividend - modulo(dividend, divisor);
    if (Number.isSafeInteger(whole)) return whole / divisor + 0;
  }
  const remainder = BigInt(dividend) % BigInt(divisor);
  const whole = BigInt(dividend) - (remainder < 0n ? remainder + BigInt(divisor) : remainder);
  return whole / BigInt(divisor);
}

/** The remainder in 0..divisor-1, also of a negative dividend. */
export function modulo(dividend: number, divisor: number): number {
  const remainder = dividend % divisor;
  return remainder < 0 ? remainder + divisor : remainder + 0;
}

/** The same whole number as a safe `number`, or NUMBER_TOO_LARGE. */
export function toSafeNumber(value: Exact): number {
  if (typeof value === 'number') return value;
  const number = Number(value);
  if (Number.isSafeInteger(number)) return number;
  throw new TimecodeError({
    code: 'NUMBER_TOO_LARGE',
    sentence: `The exact result ${value} is beyond 2^53 and has no exact number: the input is no time of a recording; check where it was read.`,
  });
}

/** Throws NUMBER_NOT_WHOLE unless `value` is a safe integer. `what` names it in the sentence. */
export function demandWhole(value: number, what: string): void {
  if (Number.isSafeInteger(value)) return;
  throw new TimecodeError({
    code: 'NUMBER_NOT_WHOLE',
    sentence: `The ${what} is ${value}, which is not a whole number below 2^53: count in whole frames or samples and keep the rest apart.`,
  });
}

/** Throws NUMBER_NOT_WHOLE or NUMBER_OUT_OF_RANGE unless `value` is a safe integer of at least `least`. */
export function demandAtLeast(value: number, least: number, what: string): void {
  demandWhole(value, what);
  if (value >= least) return;
  throw new TimecodeError({
    code: 'NUMBER_OUT_OF_RANGE',
    sentence: `The ${what} is ${value}, but must be ${least} or more: check where it was read.`,
  });
}

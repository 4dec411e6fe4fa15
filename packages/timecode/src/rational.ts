import { addExactly, demandWhole, type Exact, floorDivide, multiplyExactly, toSafeNumber } from './exact-integers.ts';
import { TimecodeError } from './timecode-fault.ts';

/** An exact fraction: whole numbers below 2^53, in lowest terms, the denominator positive. Make it with `rational`. */
export interface Rational {
  readonly numerator: number;
  readonly denominator: number;
}

/** The fraction in lowest terms. Throws DIVISION_BY_ZERO, NUMBER_NOT_WHOLE, or NUMBER_TOO_LARGE when it does not fit. */
export function rational(numerator: Exact, denominator: Exact = 1): Rational {
  if (typeof numerator === 'number') demandWhole(numerator, 'numerator');
  if (typeof denominator === 'number') demandWhole(denominator, 'denominator');
  if (denominator === 0 || denominator === 0n) {
    throw new TimecodeError({
      code: 'DIVISION_BY_ZERO',
      sentence: `The fraction ${numerator}/0 has no value: check where the rate or the time was read.`,
    });
  }
  if (denominator < 0) return rational(multiplyExactly(numerator, -1), multiplyExactly(denominator, -1));
  if (typeof numerator === 'number' && typeof denominator === 'number') {
    const divisor = greatestCommonDivisor(numerator, denominator);
    return { numerator: numerator / divisor + 0, denominator: denominator / divisor };
  }
  const divisor = greatestCommonBigDivisor(BigInt(numerator), BigInt(denominator));
  return {
    numerator: toSafeNumber(BigInt(numerator) / divisor),
    denominator: toSafeNumber(BigInt(denominator) / divisor),
  };
}

/** The exact sum, or NUMBER_TOO_LARGE. */
export function addRationals(left: Rational, right: Rational): Rational {
  if (left.denominator === right.denominator) {
    return rational(addExactly(left.numerator, right.numerator), left.denominator);
  }
  return rational(
    addExactly(multiplyExactly(left.numerator, right.denominator), multiplyExactly(right.numerator, left.denominator)),
    multiplyExactly(left.denominator, right.denominator),
  );
}

/** The exact difference, or NUMBER_TOO_LARGE. */
export function subtractRationals(left: Rational, right: Rational): Rational {
  return addRationals(left, { numerator: -right.numerator, denominator: right.denominator });
}

/** The exact product, or NUMBER_TOO_LARGE. */
export function multiplyRationals(left: Rational, right: Rational): Rational {
  return rational(
    multiplyExactly(left.numerator, right.numerator),
    multiplyExactly(left.denominator, right.denominator),
  );
}

/** The exact quotient, or DIVISION_BY_ZERO or NUMBER_TOO_LARGE. */
export function divideRationals(left: Rational, right: Rational): Rational {
  return rational(
    multiplyExactly(left.numerator, right.denominator),
    multiplyExactly(left.denominator, right.numerator),
  );
}

/** Negative, zero or positive, as `sort` wants it; exact for any two fractions. */
export function compareRationals(left: Rational, right: Rational): -1 | 0 | 1 {
  const leftPart = multiplyExactly(left.numerator, right.denominator);
  const rightPart = multiplyExactly(right.numerator, left.denominator);
  if (leftPart < rightPart) return -1;
  return leftPart > rightPart ? 1 : 0;
}

/** The largest whole number that is not above the fraction. */
export function floorOf(value: Rational): number {
  return toSafeNumber(floorDivide(value.numerator, value.denominator));
}

function greatestCommonDivisor(left: number, right: number): number {
  let [larger, smaller] = [Math.abs(left), Math.abs(right)];
  while (smaller !== 0) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}

function greatestCommonBigDivisor(left: bigint, right: bigint): bigint {
  let [larger, smaller] = [left < 0n ? -left : left, right];
  while (smaller !== 0n) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}

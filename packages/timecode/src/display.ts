import { demandAtLeast, floorDivide, multiplyExactly, addExactly } from './exact-integers.ts';
import type { Rational } from './rational.ts';

/**
 * The nearest floating-point number, for a picture's coordinate or a sentence. The only float this package hands out:
 * never calculate with it.
 */
export function approximateForDisplay(value: Rational): number {
  return value.numerator / value.denominator;
}

/** Decimal text with `places` digits after the point, rounded half away from zero, without going through a float. */
export function printDecimal(value: Rational, places: number): string {
  demandAtLeast(places, 0, 'number of decimal places');
  const size = multiplyExactly(Math.abs(value.numerator), 10n ** BigInt(places));
  const doubled = addExactly(multiplyExactly(size, 2), value.denominator);
  const rounded = BigInt(floorDivide(doubled, multiplyExactly(value.denominator, 2)));
  const digits = rounded.toString().padStart(places + 1, '0');
  const sign = value.numerator < 0 && rounded > 0n ? '-' : '';
  if (places === 0) return `${sign}${digits}`;
  return `${sign}${digits.slice(0, -places)}.${digits.slice(-places)}`;
}

import type { Ratio } from '@quayside/shoot';

/** Half of the last decimal that the library prints, and a little for its own rounding. */
const TOLERANCE = 0.0006;
/** The largest denominator in use is 99 (160:99, ITU-T H.264 table E-1). */
const LARGEST_DENOMINATOR = 99;

/** The simplest fraction that a value of three decimals can stand for, so 1.333 is 4/3. Null for none. */
export function ratioNear(value: number | null): Ratio | null {
  if (value === null || value <= 0) return null;
  for (let denominator = 1; denominator <= LARGEST_DENOMINATOR; denominator += 1) {
    const numerator = Math.round(value * denominator);
    if (numerator > 0 && Math.abs(numerator / denominator - value) <= TOLERANCE) return { numerator, denominator };
  }
  return null;
}

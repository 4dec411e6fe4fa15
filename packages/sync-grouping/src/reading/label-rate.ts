import type { Ratio } from '@quayside/shoot';
import { nearestRate, type Rate } from '@quayside/timecode';

const known = new Map<string, Rate | null>();
/** More fractions than this are no rates of recorders; they are worked out each time. */
const MOST_KNOWN = 1000;

/**
 * The rate that labels are counted at for a file's frame rate, or null when no standard defines any. A drop-frame mark at a
 * rate that has no drop frame is a recorder's habit, not another rate.
 */
export function labelRateOf(fraction: Ratio, isDropFrame: boolean): Rate | null {
  const key = `${fraction.numerator}/${fraction.denominator}${isDropFrame ? ';' : ':'}`;
  const remembered = known.get(key);
  if (remembered !== undefined) return remembered;
  const found = nearestRate(fraction, isDropFrame ? 'DF' : 'NDF');
  const rate = found.ok ? found.rate : isDropFrame ? labelRateOf(fraction, false) : null;
  if (known.size < MOST_KNOWN) known.set(key, rate);
  return rate;
}

import type { GroupRate } from '@quayside/sync-grouping';
import { type Rate, rateFrom, RATES } from '@quayside/timecode';

/** The rate of the timecode package that a group is counted at; 25 for one that no standard defines, which no grouping gives. */
export function rateOfGroup({ numerator, denominator, isDropFrame }: GroupRate): Rate {
  const found = rateFrom({ numerator, denominator }, isDropFrame ? 'DF' : 'NDF');
  return found.ok ? found.rate : RATES['25'];
}

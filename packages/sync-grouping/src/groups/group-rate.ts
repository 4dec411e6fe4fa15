import { type Rate, RATES } from '@quayside/timecode';
import type { PlacedClip } from '../clock/placed-clip.ts';
import { compareText, listBy } from '../in-order.ts';
import type { SyncGroup } from '../sync-group.ts';

/** The rate that a group is counted at: its pictures' (that of most recorders), else its sound's, the shoot's, or 25. */
export function findGroupRate(
  clips: readonly PlacedClip[],
  reference: Rate | null,
): { readonly rate: Rate; readonly rateFrom: SyncGroup['rateFrom'] } {
  const [pictures, sound] = [mostCommon(clips, 'frames', reference), mostCommon(clips, 'samples', reference)];
  if (pictures !== null) return { rate: pictures, rateFrom: 'pictures' };
  if (sound !== null) return { rate: sound, rateFrom: 'sound' };
  return reference === null ? { rate: RATES['25'], rateFrom: 'assumed' } : { rate: reference, rateFrom: 'shoot' };
}

function mostCommon(clips: readonly PlacedClip[], unit: 'frames' | 'samples', reference: Rate | null): Rate | null {
  const [first] = clips;
  if (
    first?.timed.unit === unit &&
    clips.every(({ timed }) => timed.unit === unit && timed.rate === first.timed.rate)
  ) {
    return first.timed.rate;
  }
  const rated = clips.filter(({ timed }) => timed.unit === unit && timed.rate !== null);
  const counted = [...listBy(rated, ({ timed }) => timed.rate?.name ?? '')].map(([name, own]) => ({
    name,
    rate: own[0]?.timed.rate ?? null,
    recorders: new Set(own.map(({ timed }) => timed.clip.recorder)).size,
  }));
  const [best] = counted.toSorted(
    (left, right) =>
      right.recorders - left.recorders ||
      Number(right.rate === reference) - Number(left.rate === reference) ||
      compareText(left.name, right.name),
  );
  return best?.rate ?? null;
}

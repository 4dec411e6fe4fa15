import type { RecorderRole } from '@quayside/shoot';
import type { Rate } from '@quayside/timecode';
import { compareText, listBy } from '../in-order.ts';
import type { TimedClip } from '../reading/timed-clip.ts';

const ROLES: readonly RecorderRole[] = ['camera', 'program', 'sound'];

/** The rate that most recorders run at, cameras before all others; of two, the one with more clips. Null for none. */
export function findReferenceRate(clips: readonly TimedClip[]): Rate | null {
  for (const role of ROLES) {
    const rated = clips.filter((clip) => clip.clip.role === role && clip.rate !== null);
    const [best] = [...listBy(rated, (clip) => clip.rate?.name ?? '')].toSorted(
      ([leftName, left], [rightName, right]) =>
        countRecorders(right) - countRecorders(left) || right.length - left.length || compareText(leftName, rightName),
    );
    const rate = best?.[1][0]?.rate;
    if (rate != null) return rate;
  }
  return null;
}

/** Whether labels of the two rates keep together: equal labels are equal moments, whenever the clocks were set. */
export function countsAlike(left: Rate, right: Rate): boolean {
  return left.denominator === right.denominator && left.drop > 0 === right.drop > 0;
}

function countRecorders(clips: readonly TimedClip[]): number {
  return new Set(clips.map((clip) => clip.clip.recorder)).size;
}

import { compareText, listBy } from '../in-order.ts';
import type { TimedClip } from './timed-clip.ts';

/** A clip that a recorder's footage holds more than once: the one that is kept and the others. */
export interface Twins {
  readonly kept: TimedClip;
  readonly others: readonly TimedClip[];
}

/**
 * Finds the clips that exist twice: same recorder, bytes, first label, length and date of recording; the kept one is the first by id.
 * Recorders of one kind that started together can agree in all of that, so twins are looked for within one recorder.
 */
export function findTwins(clips: readonly TimedClip[]): readonly Twins[] {
  const seen = new Set<number>();
  const repeated = new Set<number>();
  for (const { ticks } of clips) (seen.has(ticks) ? repeated : seen).add(ticks);
  const suspects = clips.filter((clip) => repeated.has(clip.ticks));
  const alike = [...listBy(suspects, keyOf).values()];
  return alike.flatMap((ones) => {
    const [kept, ...others] = ones.toSorted((left, right) => compareText(left.clip.id, right.clip.id));
    return kept === undefined || others.length === 0 ? [] : [{ kept, others }];
  });
}

function keyOf({ clip, ticks, length, recordedAt }: TimedClip): string {
  // The date from inside the file where there is one, else the modification: with neither alike, two days may be two clips.
  return `${clip.recorder}\u0000${clip.sizeInBytes}\u0000${ticks}\u0000${length}\u0000${recordedAt.ms}`;
}

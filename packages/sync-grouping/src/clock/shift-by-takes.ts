import { lowerMedian, sampleEvenly } from '../median.ts';
import { joinSpans } from '../takes/join-spans.ts';
import { TICKS_PER_SECOND } from '../ticks.ts';
import type { PlacedClip } from './placed-clip.ts';
import type { Stretch } from './span-index.ts';

/** A shift that lines a recorder's clips up with takes, and the share of its clips that it lines up. */
export interface TakeShift {
  readonly ticks: number;
  readonly share: number;
}

const SAMPLE = 12;
/** A clip and a take are of one length when their lengths differ by less. */
const SAME_LENGTH = 2 * TICKS_PER_SECOND;
/** Followers react within a second. */
const TOGETHER = TICKS_PER_SECOND;
const FEWEST_CLIPS = 3;
const LEAST_SHARE = 0.6;

/**
 * The one shift under which most of a recorder's clips begin and end with takes: lengths and pauses make a pattern that hardly
 * repeats. Null with fewer than three clips to judge by, and when two shifts do equally well.
 */
export function findShiftByTakes(clips: readonly PlacedClip[], takes: readonly Stretch[]): TakeShift | null {
  const sample = sampleEvenly(joinSpans(clips), SAMPLE);
  if (sample.length < FEWEST_CLIPS) return null;
  const votes = sample
    .flatMap((span, clip) =>
      takes
        .filter((take) => Math.abs(take.end - take.start - (span.end - span.start)) <= SAME_LENGTH)
        .map((take) => ({ clip, shift: take.start - span.start })),
    )
    .toSorted((left, right) => left.shift - right.shift);
  const best = { count: 0, shift: 0, rival: 0 };
  let from = 0;
  const inWindow = new Map<number, number>();
  for (const [at, vote] of votes.entries()) {
    inWindow.set(vote.clip, (inWindow.get(vote.clip) ?? 0) + 1);
    for (let first = votes[from]; first !== undefined && vote.shift - first.shift > TOGETHER; first = votes[from]) {
      const left = (inWindow.get(first.clip) ?? 1) - 1;
      if (left === 0) inWindow.delete(first.clip);
      else inWindow.set(first.clip, left);
      from += 1;
    }
    const shift = lowerMedian(votes.slice(from, at + 1).map((one) => one.shift));
    const isElsewhere = Math.abs(shift - best.shift) > TOGETHER;
    if (inWindow.size > best.count) {
      if (isElsewhere) best.rival = best.count;
      best.count = inWindow.size;
      best.shift = shift;
    } else if (isElsewhere) best.rival = Math.max(best.rival, inWindow.size);
  }
  const share = best.count / sample.length;
  const isClear = best.count >= FEWEST_CLIPS && best.rival < best.count && share >= LEAST_SHARE;
  return isClear ? { ticks: best.shift, share } : null;
}

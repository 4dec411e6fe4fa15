import { compareText } from '../in-order.ts';
import type { PlacedClip } from '../clock/placed-clip.ts';
import { TICKS_PER_SECOND } from '../ticks.ts';

/** What one recorder recorded without stopping: one clip, or several that it split by size or time. */
export interface Span {
  readonly recorder: string;
  readonly chain: number;
  readonly start: number;
  readonly end: number;
  readonly clips: readonly PlacedClip[];
}

/** One frame at 24: what a split file's neighbour may be off, and less than any stop and restart. */
export const SPLIT_TICKS = TICKS_PER_SECOND / 24 + TICKS_PER_SECOND / 1000;

/** The spans of all clips, by chain, start and recorder. */
export function joinSpans(clips: readonly PlacedClip[]): readonly Span[] {
  const spans: Span[] = [];
  const latest = new Map<string, { clips: PlacedClip[]; end: number; readonly chain: number }>();
  for (const clip of clips.toSorted(comparePlaced)) {
    const { recorder } = clip.timed.clip;
    const last = latest.get(recorder);
    if (last !== undefined && last.chain === clip.chain && Math.abs(clip.start - last.end) <= SPLIT_TICKS) {
      last.clips.push(clip);
      last.end = Math.max(last.end, clip.end);
      continue;
    }
    const span = { recorder, chain: clip.chain, start: clip.start, end: clip.end, clips: [clip] };
    latest.set(recorder, span);
    spans.push(span);
  }
  return spans;
}

/** By chain, start, recorder and id: the order that all lists of a result follow. */
export function comparePlaced(left: PlacedClip, right: PlacedClip): number {
  return (
    left.chain - right.chain ||
    left.start - right.start ||
    compareText(left.timed.clip.recorder, right.timed.clip.recorder) ||
    compareText(left.timed.clip.id, right.timed.clip.id)
  );
}

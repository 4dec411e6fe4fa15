import { demandAtLeast, modulo } from './exact-integers.ts';
import { wrapCount } from './label.ts';
import type { Rate } from './rate.ts';

/**
 * A run of frames of one rate: the count of its first label and how many there are. It may run past midnight, where its
 * labels start at 0 again. A length of a day or more covers every label.
 */
export interface FrameRange {
  readonly start: number;
  readonly length: number;
}

/** The label count just after the last frame, within its day: smaller than `start` when the range crosses midnight. */
export function endOfRange(range: FrameRange, rate: Rate): number {
  const { start, length } = withinDay(range, rate);
  return modulo(start + length, rate.labelsPerDay);
}

/** Whether the label at a count falls into the range. */
export function rangeContains(range: FrameRange, count: number, rate: Rate): boolean {
  const { start, length } = withinDay(range, rate);
  return distanceAfter(start, wrapCount(count, rate), rate) < length;
}

/** Whether the two ranges share at least one label. */
export function rangesOverlap(left: FrameRange, right: FrameRange, rate: Rate): boolean {
  return intersectRanges(left, right, rate).length > 0;
}

/**
 * What the two ranges share, each piece within its day. None when they are apart; two only when together they are longer
 * than a day and meet at both ends. The order of the two makes no difference.
 */
export function intersectRanges(left: FrameRange, right: FrameRange, rate: Rate): readonly FrameRange[] {
  const [first, second] = inOrder(withinDay(left, rate), withinDay(right, rate));
  if (second.length === rate.labelsPerDay) return first.length > 0 ? [first] : [];
  if (first.length === rate.labelsPerDay) return second.length > 0 ? [second] : [];
  const offset = distanceAfter(first.start, second.start, rate);
  // Seen from `first`, `second` begins `offset` later and, a day before that, once more.
  const later = { start: second.start, length: Math.min(first.length, offset + second.length) - offset };
  const earlier = { start: first.start, length: Math.min(first.length, offset + second.length - rate.labelsPerDay) };
  return [earlier, later].filter((piece) => piece.length > 0);
}

/**
 * The shortest range that covers both, with the gap between them if there is one; an empty range adds nothing. Of two
 * equally short ways round, the one with the smaller start.
 */
export function unionBounds(left: FrameRange, right: FrameRange, rate: Rate): FrameRange {
  const [first, second] = inOrder(withinDay(left, rate), withinDay(right, rate));
  if (first.length === 0) return second;
  if (second.length === 0) return first;
  const [fromFirst, fromSecond] = [coverFrom(first, second, rate), coverFrom(second, first, rate)];
  return fromSecond.length < fromFirst.length ? fromSecond : fromFirst;
}

function coverFrom(first: FrameRange, second: FrameRange, rate: Rate): FrameRange {
  const length = Math.max(first.length, distanceAfter(first.start, second.start, rate) + second.length);
  return { start: first.start, length: Math.min(length, rate.labelsPerDay) };
}

function withinDay(range: FrameRange, rate: Rate): FrameRange {
  demandAtLeast(range.length, 0, 'length of the range');
  return { start: wrapCount(range.start, rate), length: Math.min(range.length, rate.labelsPerDay) };
}

function inOrder(left: FrameRange, right: FrameRange): readonly [FrameRange, FrameRange] {
  if (left.start !== right.start) return left.start < right.start ? [left, right] : [right, left];
  return left.length <= right.length ? [left, right] : [right, left];
}

function distanceAfter(start: number, count: number, rate: Rate): number {
  return modulo(count - start, rate.labelsPerDay);
}

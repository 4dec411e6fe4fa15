import { firstIndexWhere } from '../in-order.ts';

/** A stretch of time in ticks. */
export interface Stretch {
  readonly start: number;
  readonly end: number;
}

/** Stretches of one recorder or more in a form in which the best fitting one is found quickly. */
export interface SpanIndex {
  readonly byStart: readonly Stretch[];
  readonly byEnd: readonly Stretch[];
}

export function indexSpans(spans: readonly Stretch[]): SpanIndex {
  return {
    byStart: spans.toSorted((left, right) => left.start - right.start || left.end - right.end),
    byEnd: spans.toSorted((left, right) => left.end - right.end || left.start - right.start),
  };
}

/** How far both ends of the best fitting stretch lie from these, added up; infinite when there is none. */
export function misfitOf(stretch: Stretch, index: SpanIndex): number {
  let least = Infinity;
  visitNeighbours(stretch, index, (near) => {
    least = Math.min(least, Math.abs(near.start - stretch.start) + Math.abs(near.end - stretch.end));
  });
  return least;
}

/** The largest share of the shorter of two that a stretch has in common with any of the index. */
export function overlapShareOf(stretch: Stretch, index: SpanIndex): number {
  let most = 0;
  visitNeighbours(stretch, index, (near) => {
    const common = Math.min(near.end, stretch.end) - Math.max(near.start, stretch.start);
    const shorter = Math.min(near.end - near.start, stretch.end - stretch.start);
    if (shorter > 0) most = Math.max(most, common / shorter);
  });
  return most;
}

const REACH = 3;

/** The few whose starts or ends lie nearest: the best fit for either end is among them. */
function visitNeighbours({ start, end }: Stretch, { byStart, byEnd }: SpanIndex, visit: (near: Stretch) => void): void {
  visitAround(
    byStart,
    firstIndexWhere(byStart, (span) => span.start >= start),
    visit,
  );
  visitAround(
    byEnd,
    firstIndexWhere(byEnd, (span) => span.end >= end),
    visit,
  );
}

function visitAround(spans: readonly Stretch[], middle: number, visit: (near: Stretch) => void): void {
  for (let at = Math.max(0, middle - REACH); at < Math.min(spans.length, middle + REACH); at += 1) {
    const near = spans[at];
    if (near !== undefined) visit(near);
  }
}

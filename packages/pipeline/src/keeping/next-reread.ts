import type { Instant } from '@quayside/shoot';
import type { KeptCopy } from './kept-copies.ts';

/** A request by a person: everything of a shoot's rolls, or at a destination, is to have been read since a moment. */
export interface RereadWish {
  readonly kind: 'shoot' | 'destination';
  readonly id: string;
  readonly since: Instant;
}

/** The copy that is to be read again next, and when; `dueMs` may lie in the past. */
export interface NextReread {
  readonly copy: KeptCopy;
  readonly dueMs: number;
}

export interface RereadPlan {
  /** Within which all is to be read again, in milliseconds; null when nothing is by itself. */
  readonly everyMs: number | null;
  /** Milliseconds since 1970 of an instant. */
  readonly msOf: (instant: Instant) => number;
}

/** Part of the time that is planned for a pass: the rest makes up for what drives that were being taken in delayed. */
const PLANNED = 0.9;

/** What a person has asked for and is not done, the longest unread first; null when all is done. */
export function nextWished(copies: readonly KeptCopy[], wish: RereadWish): KeptCopy | null {
  return oldestFirst(wishedCopies(copies, wish).filter((copy) => !isDoneSince(copy, wish.since)))[0] ?? null;
}

/** What a request is about. */
export function wishedCopies(
  copies: readonly KeptCopy[],
  { kind, id }: Pick<RereadWish, 'kind' | 'id'>,
): readonly KeptCopy[] {
  return copies.filter(({ shootId, destination }) => (kind === 'shoot' ? shootId : destination) === id);
}

/** Whether all of it has been read since a moment, or could not be. */
export function isDoneSince({ readBackAt, reread }: KeptCopy, since: Instant): boolean {
  if (reread !== null && reread.since >= since) return !reread.isUnderWay;
  return readBackAt >= since;
}

/**
 * What is read again next by itself: the longest unread first. A pass is spread evenly: after one copy so much time goes by as
 * its share of all bytes is of the time for a pass. Nothing is left unread for longer than that time, also where drives that
 * were being taken in have put it off: what is late goes at once.
 */
export function nextReread(copies: readonly KeptCopy[], { everyMs, msOf }: RereadPlan): NextReread | null {
  const [copy] = oldestFirst(copies.filter(({ reread }) => reread?.isUnderWay !== true));
  if (copy === undefined || everyMs === null) return null;
  const planMs = everyMs * PLANNED;
  const triedMs = msOf(lastTried(copy));
  const begunMs = copies.reduce((last, { reread }) => Math.max(last, reread === null ? 0 : msOf(reread.since)), 0);
  const pauseMs = planMs * shareOf(copy, copies);
  return { copy, dueMs: Math.min(Math.max(triedMs, begunMs) + pauseMs, triedMs + planMs) };
}

function shareOf({ sizeInBytes }: KeptCopy, copies: readonly KeptCopy[]): number {
  const total = copies.reduce((sum, copy) => sum + copy.sizeInBytes, 0);
  return total === 0 ? 1 / copies.length : sizeInBytes / total;
}

function oldestFirst(copies: readonly KeptCopy[]): readonly KeptCopy[] {
  return copies.toSorted(
    (one, other) =>
      compare(lastTried(one), lastTried(other)) ||
      compare(one.rollId, other.rollId) ||
      compare(one.destination, other.destination),
  );
}

/** One that could not be read waits for its turn as if it had been, so that it does not keep the others from theirs. */
function lastTried({ readBackAt, reread }: KeptCopy): string {
  return reread !== null && reread.hasFailed && reread.since > readBackAt ? reread.since : readBackAt;
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}

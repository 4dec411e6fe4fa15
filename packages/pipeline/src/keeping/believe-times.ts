import type { Instant } from '@quayside/shoot';
import type { KeptCopy } from './kept-copies.ts';

/**
 * The copies with no time that lies ahead of `now`: such a one was noted while a clock was wrong, and until it has passed nothing
 * would be read again. What was read then counts as never read.
 */
export function believeTimes(copies: readonly KeptCopy[], now: Instant): readonly KeptCopy[] {
  return copies.map((copy) => {
    const { readBackAt, reread } = copy;
    const isRereadAhead = reread !== null && !reread.isUnderWay && reread.since > now;
    if (readBackAt <= now && !isRereadAhead) return copy;
    return { ...copy, readBackAt: readBackAt > now ? LONG_AGO : readBackAt, reread: isRereadAhead ? null : reread };
  });
}

const LONG_AGO = '1970-01-01T00:00:00.000Z';

import { type Digests, HashAlgorithm } from '@quayside/shoot';

/** The algorithms that these digests hold, in the standard's order. */
export function algorithmsOf(digests: Digests): HashAlgorithm[] {
  return HashAlgorithm.options.filter((algorithm) => digests[algorithm] !== undefined);
}

/** The first algorithm whose digests differ, or null when all that both hold agree. Nothing in common counts as a difference. */
export function firstDifference(expected: Digests, found: Digests): HashAlgorithm | 'none in common' | null {
  const common = algorithmsOf(expected).filter((algorithm) => found[algorithm] !== undefined);
  if (common.length === 0) return 'none in common';
  return common.find((algorithm) => expected[algorithm] !== found[algorithm]) ?? null;
}

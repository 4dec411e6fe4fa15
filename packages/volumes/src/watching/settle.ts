/** What is known of how a volume's listing holds still. Kept by the caller from look to look. */
export interface Settling {
  readonly state: 'settling' | 'settled';
  readonly fingerprint: string;
  /** Since when, by the caller's clock, the fingerprint has been the same. */
  readonly sinceMs: number;
  readonly seenMs: number;
}

/**
 * Judges by another look at the listing whether it has settled: seen at least twice and unchanged for `settleMs`. `nowMs` should be
 * monotonic; a clock that steps back starts the wait anew, it never shortens it.
 */
export function settle(
  previous: Settling | null,
  fingerprint: string,
  { nowMs, settleMs }: { readonly nowMs: number; readonly settleMs: number },
): Settling {
  if (previous?.fingerprint !== fingerprint) return { state: 'settling', fingerprint, sinceMs: nowMs, seenMs: nowMs };
  if (previous.state === 'settled') return { ...previous, seenMs: nowMs };
  if (nowMs < previous.seenMs) return { ...previous, sinceMs: nowMs, seenMs: nowMs };
  const state = nowMs - previous.sinceMs >= settleMs ? 'settled' : 'settling';
  return { ...previous, state, seenMs: nowMs };
}

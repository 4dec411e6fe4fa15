/** Receives one sentence for the service's log. */
export type Log = (sentence: string) => void;

/** Logs `sentence` when it is the first of its kind, then at most once a minute with the number that was held back. */
export type ThinnedLog = (kind: string, sentence: string) => void;

/**
 * Thins out what repeats: while Redis is away every connection complains at each try, 25 times in 25 s as measured. A kind
 * is a short fixed word, so the memory of it stays small.
 */
export function thinnedLog(log: Log | undefined, pauseMs = 60_000): ThinnedLog {
  const kinds = new Map<string, { loggedAt: number; heldBack: number }>();
  return (kind, sentence) => {
    const known = kinds.get(kind);
    // Monotonic time: the wall clock may be stepped.
    const now = performance.now();
    if (known !== undefined && now - known.loggedAt < pauseMs) {
      known.heldBack += 1;
      return;
    }
    const more =
      known !== undefined && known.heldBack > 0 ? ` (${known.heldBack} more like it since the last line)` : '';
    kinds.set(kind, { loggedAt: now, heldBack: 0 });
    log?.(`${sentence}${more}`);
  };
}

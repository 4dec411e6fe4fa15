/** A roll's way from being listed to its verdict. */
export interface RollTaken {
  /** Milliseconds since 1970. */
  readonly fromMs: number;
  readonly toMs: number;
  readonly bytes: number;
}

/** Below this a session is mostly waiting for drives to settle, which says little of a shoot. */
const LEAST_BYTES = 1_000_000_000;

/**
 * Bytes in a second that were taken in and proven, all drives together, a number for each session, oldest first. Rolls that
 * overlap in time are one session, since the drives come together.
 */
export function ingestRates(rolls: readonly RollTaken[]): readonly number[] {
  const sessions: { fromMs: number; toMs: number; bytes: number }[] = [];
  for (const roll of rolls.toSorted((one, other) => one.fromMs - other.fromMs)) {
    const last = sessions.at(-1);
    if (last !== undefined && roll.fromMs <= last.toMs) {
      last.toMs = Math.max(last.toMs, roll.toMs);
      last.bytes += roll.bytes;
    } else sessions.push({ ...roll });
  }
  return sessions
    .filter(({ bytes, fromMs, toMs }) => bytes >= LEAST_BYTES && toMs > fromMs)
    .map(({ bytes, fromMs, toMs }) => (bytes * 1000) / (toMs - fromMs));
}

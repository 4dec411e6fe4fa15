/** Recorders whose clock was never set begin at 1970, 1980 or 2000: before this their times tell nothing about a file. */
const EARLIEST_BELIEVABLE_MS = Date.UTC(2001, 0, 1);

/** Whether a file's time comes from a clock that was never set, so that equal times prove nothing. */
export function isClockUnset(modifiedMs: number): boolean {
  return modifiedMs < EARLIEST_BELIEVABLE_MS;
}

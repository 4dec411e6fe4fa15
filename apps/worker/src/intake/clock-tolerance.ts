/** A day: time zones that a recorder does not know of stay below it. */
export const CLOCK_TOLERANCE_MS = 24 * 3600 * 1000;

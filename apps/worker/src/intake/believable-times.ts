/** A day: time zones that a recorder does not know of stay below it. */
export const CLOCK_TOLERANCE_MS = 24 * 3600 * 1000;

/** Recorders without a set clock begin at 1970, 1980 or 2000; their times tell nothing about a file. */
export const EARLIEST_BELIEVABLE_MS = Date.UTC(2001, 0, 1);

/** How often a run that fails is tried before it rests for a person. */
export const MOST_TRIES = 4;

const FIRST_MS = 15_000;
const FACTOR = 8;

/** The pause in milliseconds after so many failed tries: 15 s, 2 min, 16 min. */
export function pauseBeforeTry(tries: number): number {
  return FIRST_MS * FACTOR ** Math.max(0, tries - 1);
}

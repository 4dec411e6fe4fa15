import type { JournalLine } from './journal-line.ts';
import { JournalState } from './journal-state.ts';

const LONG = 5000;
const KEPT_DELIVERIES = 1000;

/**
 * Cuts a journal down that has grown long: where every thread stands, whatever is not settled, and the newest thousand
 * deliveries. Lines of a journal that is not long are given back as they are.
 */
export function compactLines(
  lines: readonly JournalLine[],
  long = LONG,
  kept = KEPT_DELIVERIES,
): readonly JournalLine[] {
  if (lines.length <= long) return lines;
  const state = new JournalState();
  for (const line of lines) state.apply(line);
  const all = [...state.deliveries.values()];
  const wanted = new Set([...all.filter(({ settledAt }) => settledAt === null), ...all.slice(-kept)]);
  const letters = new Set([...wanted].flatMap(({ id, letter }) => [id, letter]));
  const keys = new Set([...wanted].map(({ thread, number }) => `${number} ${thread}`));
  const history = lines.filter((line) => {
    switch (line.line) {
      case 'told':
        return keys.has(`${line.number} ${line.thread}`);
      case 'gathered':
      case 'tried':
      case 'settled':
        return letters.has(line.letter);
      case 'born':
      case 'moved':
        return false;
    }
  });
  const standing = [...state.threads].map(([thread, at]): JournalLine => ({
    line: 'moved',
    thread,
    ...at,
    event: null,
  }));
  // Where the threads stand comes last: it counts.
  return [{ line: 'born', id: state.id, event: state.event }, ...history, ...standing];
}

import type { BenchName } from '../bench-options.ts';
import { highestOf, type Row } from '../row.ts';
import type { PeakMemory } from './watch-memory.ts';

/** The row of the highest memory of the processes that touch footage; the whole service is told beside it. */
export function moversMemoryRow(bench: BenchName, what: string, peaks: readonly PeakMemory[]): Row {
  const samples = peaks.map(({ movers }) => megabytes(movers));
  const value = highestOf(samples);
  const whole = highestOf(peaks.map(({ most }) => megabytes(most))) ?? 0;
  const notes = [`the whole service, Redis included: ${whole.toFixed(0)} MB (${partsOf(peaks[0]?.byName ?? {})})`];
  return {
    bench,
    what,
    unit: 'MB',
    value,
    samples,
    target: { sense: 'at most', limit: 250 },
    notes: value === null ? ['proportional set sizes are had on Linux only'] : notes,
  };
}

/** Who uses how much, in megabytes. */
export function partsOf(byName: Readonly<Record<string, number>>): string {
  return Object.entries(byName)
    .map(([name, bytes]) => `${name} ${megabytes(bytes).toFixed(0)}`)
    .join(', ');
}

/** In millions of bytes, as the targets are given. */
export function megabytes(bytes: number): number {
  return bytes / 1e6;
}

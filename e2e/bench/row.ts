import type { BenchName } from './bench-options.ts';

export type Unit = 'times' | 'core-s/GiB' | 'MB' | '%' | 'ms' | '/s';

/** One line of the table: a measured value beside its target. */
export interface Row {
  readonly bench: BenchName;
  readonly what: string;
  readonly unit: Unit;
  /** The median of the samples, or for memory the highest of them. Null when it could not be had here; the notes say why. */
  readonly value: number | null;
  readonly samples: readonly number[];
  readonly target: Target;
  /** What one must know to read the value right. */
  readonly notes: readonly string[];
}

export interface Target {
  readonly sense: 'at least' | 'at most' | 'under';
  readonly limit: number;
}

/** Whether the value meets its target; null when there is no value. */
export function isMet({ value, target }: Pick<Row, 'value' | 'target'>): boolean | null {
  if (value === null) return null;
  const { sense, limit } = target;
  if (sense === 'at least') return value >= limit;
  return sense === 'at most' ? value <= limit : value < limit;
}

/** The median; of an even number of values the mean of the two in the middle. Null of none. */
export function medianOf(values: readonly number[]): number | null {
  const sorted = values.toSorted((a, b) => a - b);
  const [low, high] = [sorted[Math.floor((sorted.length - 1) / 2)], sorted[Math.floor(sorted.length / 2)]];
  return low === undefined || high === undefined ? null : (low + high) / 2;
}

/** The highest; null of none. */
export function highestOf(values: readonly number[]): number | null {
  return values.length === 0 ? null : Math.max(...values);
}

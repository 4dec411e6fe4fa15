import type { BenchOptions } from './bench-options.ts';

/** What each bench gets. It leaves the folder empty. */
export interface BenchWork {
  readonly folder: string;
  readonly options: BenchOptions;
  readonly say: (line: string) => void;
}

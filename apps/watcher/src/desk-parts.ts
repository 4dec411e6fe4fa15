import type { Configuration } from '@quayside/configuration';
import type { RunQueue, Store } from '@quayside/job-queue';

/** What attending volumes needs. Once the signal aborts, nothing is written about any of them. */
export interface DeskParts {
  readonly store: Store;
  readonly queue: RunQueue;
  readonly configuration: Configuration;
  readonly log: (sentence: string, about?: object) => void;
  readonly signal: AbortSignal;
}

import type { Configuration } from '@quayside/configuration';
import type { RunQueue, Store } from '@quayside/job-queue';
import type { Mount } from '@quayside/shoot';
import type { DestinationBook } from '../destinations/destination-book.ts';

/** What taking a volume in works with. */
export interface IntakeParts {
  readonly store: Store;
  readonly queue: RunQueue;
  readonly book: DestinationBook;
  readonly configuration: Configuration;
  /** Whether anything on a volume can be read now. */
  readonly isAnswering: (mount: Mount, signal: AbortSignal) => Promise<boolean>;
}

import type { Digests, Failure, FileEntry } from '@quayside/shoot';
import type { Pace } from '../direct-io/pace.ts';
import type { SourceOpener } from '../source/open-source.ts';
import type { SourceReading } from '../source/read-source.ts';
import type { Gate } from '../workbench/gate.ts';
import type { Desk } from './desk.ts';
import type { StagedSink } from './desk-sink.ts';
import type { Placed, ReadFile } from './place-file.ts';

/** What one reading of the source came to at one desk. `again`: no copy stands there, and another reading is worth it. */
export type Attempt =
  | { readonly kind: 'placed'; readonly placed: Placed; readonly digests: Digests }
  | { readonly kind: 'failed'; readonly failure: Failure }
  | { readonly kind: 'again'; readonly failure: Failure | null };

/** One file that wants copies. The attempts are put in as they come about. */
export interface CopyTask {
  readonly file: FileEntry;
  /** Where a copy is staged while the source is read. */
  readonly staging: readonly Desk[];
  /** Where a file of the same size has the name already: the source is read first, and the two compared. */
  readonly comparing: readonly Desk[];
  readonly attempts: Map<Desk, Attempt>;
  /** True for the second reading: nothing is tried a third time. */
  readonly isLast: boolean;
}

/** A reading of the source among others. */
export interface CopyReading extends SourceReading, SourceOpener {
  readonly pace: Pace;
  /** One batch is read at a time, while the one before is synced and named. */
  readonly readingTurn: Gate;
  /** Why what was read of a file must not become a copy; null when it may. */
  readonly findFault: (file: FileEntry, digests: Digests) => Failure | null;
  /** Whether the source is read a second time before anything it gave becomes a copy. */
  readonly readsTwice: boolean;
}

/** A copy in the making. */
export interface StagedCopy {
  readonly task: CopyTask;
  readonly sink: StagedSink;
  /** Set when the source was read to its end. */
  read: ReadFile | null;
}

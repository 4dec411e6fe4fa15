import type { HashAlgorithm, Instant } from '@quayside/shoot';
import type { Creator, HashAction } from './manifest.ts';

/** One operation to be recorded: what was hashed, and what came of it. Hashes come in as values; no file is read here. */
export interface NewGeneration {
  /** When the operation began. Keep it for a retry: with it, a retry is known to be the same operation. */
  readonly startedAt: Instant;
  /** `transfer`: copied, and the copy compared with its source. `in-place`: only hashed. */
  readonly process: 'transfer' | 'in-place';
  readonly creator: Creator;
  /** Patterns beyond those of the history and of the standard. What matches is left out of the record. */
  readonly ignore: readonly string[];
  readonly files: readonly NewFile[];
  /** Folders without any file below them; they count in directory hashes. */
  readonly emptyFolders?: readonly string[];
  /** True when every file below the root that is not ignored is in `files`: then directory hashes are recorded. */
  readonly complete: boolean;
  /**
   * True for an operation that is worth a generation whatever it found, such as a further reading of everything: then only its
   * own start makes it one that was recorded before.
   */
  readonly countsAlone?: boolean;
}

export interface NewFile {
  /** Relative to the root, `/` between parts, as stored; see `isRecordablePath`. */
  readonly path: string;
  readonly sizeInBytes: number;
  /** Milliseconds since 1970-01-01 UTC; fractions are dropped. */
  readonly modifiedMs: number;
  readonly createdMs?: number;
  /** One for each algorithm, at least one. */
  readonly hashes: readonly NewHash[];
  /** The path under which the generation before recorded this file, when it was renamed since. */
  readonly previousPath?: string;
}

export interface NewHash {
  readonly algorithm: HashAlgorithm;
  readonly value: string;
  /** As `actionsFor` says. */
  readonly action: HashAction;
  readonly at?: Instant;
}

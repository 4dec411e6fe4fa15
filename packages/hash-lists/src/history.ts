import type { HashAlgorithm } from '@quayside/shoot';
import type { HashAction, Manifest } from './manifest.ts';

/** What all manifests of one folder say together. */
export interface History {
  /** By number, oldest first. Empty when the folder has no history. */
  readonly generations: readonly Generation[];
  /** By present path, every file that a readable generation records. */
  readonly files: ReadonlyMap<string, RecordedFile>;
  /** The patterns left out by the history as a whole. */
  readonly ignore: readonly string[];
  /** What is wrong with the history itself. Empty when it is whole. */
  readonly faults: readonly Fault[];
}

export interface Generation {
  readonly number: number;
  /** The manifest's file name. */
  readonly name: string;
  readonly c4: string;
  /** False when the chain file does not vouch for it. */
  readonly isChained: boolean;
  /** Null when it is missing, altered, malformed or of another version: then a fault says so. */
  readonly manifest: Manifest | null;
}

/** One file of a history. */
export interface RecordedFile {
  /** As last recorded without a failure. */
  readonly sizeInBytes: number | null;
  readonly modifiedMs: number | null;
  /** The earliest hash of each algorithm that did not fail: what the file is compared with. Failed ones only for want of another. */
  readonly hashes: ReadonlyMap<HashAlgorithm, RecordedDigest>;
  /** What the latest generation that records the file says of it. */
  readonly lastAction: HashAction;
  readonly lastGeneration: number;
  /** True when the latest generation that records the file found it changed. */
  readonly failed: boolean;
}

export interface RecordedDigest {
  readonly value: string;
  readonly action: HashAction;
  readonly generation: number;
}

/** Something wrong with a history itself. `sentence` says what, where and what to do. */
export interface Fault {
  readonly code: FaultCode;
  readonly sentence: string;
  readonly generation: number | null;
}

/**
 * `CHAIN_MISSING` manifests but no chain; `CHAIN_UNFINISHED` only the staged copy of the chain is there, and it is good;
 * `CHAIN_MALFORMED`; `CHAIN_GAP` numbers are not 1, 2, 3…; `MANIFEST_MISSING`; `MANIFEST_ALTERED` its C4 ID is not the
 * chain's; `MANIFEST_MALFORMED`; `MANIFEST_UNSUPPORTED` another version; `MANIFEST_UNCHAINED` there, but not in the chain;
 * `RECORD_REFUSED` single records are unusable.
 */
export type FaultCode =
  | 'CHAIN_MISSING'
  | 'CHAIN_UNFINISHED'
  | 'CHAIN_MALFORMED'
  | 'CHAIN_GAP'
  | 'MANIFEST_MISSING'
  | 'MANIFEST_ALTERED'
  | 'MANIFEST_MALFORMED'
  | 'MANIFEST_UNSUPPORTED'
  | 'MANIFEST_UNCHAINED'
  | 'RECORD_REFUSED';

/** States a fault. */
export function faultOf(code: FaultCode, generation: number | null, sentence: string): Fault {
  return { code, generation, sentence };
}

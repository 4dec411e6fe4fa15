import type { Digests, HashAlgorithm, Instant } from '@quayside/shoot';

/** What a hash in a manifest claims: the first ever, checked against an earlier one, or found to differ from it. */
export type HashAction = (typeof HASH_ACTIONS)[number];
export const HASH_ACTIONS = ['original', 'verified', 'failed'] as const;

/** How the hashes of a generation came to be. */
export type Process = (typeof PROCESSES)[number];
export const PROCESSES = ['transfer', 'in-place', 'flatten'] as const;

/** One manifest as values: what the writer writes and the reader returns. Null stands for what the file does not say. */
export interface Manifest {
  readonly startedAt: Instant | null;
  readonly process: Process | null;
  readonly creator: Creator;
  readonly ignore: readonly string[];
  /** Null when not every file below the root was hashed. */
  readonly root: FolderDigests | null;
  readonly files: readonly FileRecord[];
  readonly folders: readonly FolderRecord[];
  /** Manifests of nested histories. */
  readonly references: readonly ManifestReference[];
}

export interface Creator {
  readonly hostname: string;
  readonly tool: string;
  readonly toolVersion: string;
  readonly author?: Author;
  readonly location?: string;
  /** Free text; the standard's guidelines ask for the absolute source and destination. */
  readonly comment?: string;
}

export interface Author {
  readonly name: string;
  readonly role?: string;
  readonly email?: string;
  readonly phone?: string;
}

export interface FileRecord {
  readonly path: string;
  readonly sizeInBytes: number | null;
  /** Whole milliseconds since 1970-01-01 UTC. */
  readonly modifiedMs: number | null;
  readonly createdMs: number | null;
  readonly hashes: readonly HashRecord[];
  /** The path that the same file had in the generation before. */
  readonly previousPath: string | null;
}

export interface HashRecord {
  readonly algorithm: HashAlgorithm;
  readonly value: string;
  readonly action: HashAction | null;
  /** When it was computed; null means at the manifest's own start. */
  readonly at: Instant | null;
}

export interface FolderDigests {
  readonly content: Digests;
  readonly structure: Digests;
}

export interface FolderRecord extends FolderDigests {
  readonly path: string;
  readonly previousPath: string | null;
}

export interface ManifestReference {
  readonly path: string;
  readonly c4: string;
}

/** The history folder inside the folder that it covers. */
export const HISTORY_FOLDER = 'ascmhl';
export const CHAIN_NAME = 'ascmhl_chain.xml';
export const MANIFEST_NAMESPACE = 'urn:ASC:MHL:v2.0';
export const CHAIN_NAMESPACE = 'urn:ASC:MHL:DIRECTORY:v2.0';
export const MANIFEST_VERSION = '2.0';

/** Nothing larger is read or written: a file of this size needs some 2 GB of memory to parse. About half a million records. */
export const MAX_XML_BYTES = 128 * 1024 * 1024;

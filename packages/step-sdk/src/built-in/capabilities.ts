import type {
  Acknowledgement,
  Clip,
  Clearance,
  Digests,
  GuestRunRecord,
  Failure,
  FileEntry,
  FileFacts,
  Finding,
  HashAlgorithm,
  Instant,
  MediaFacts,
  Mount,
  ReadBackMethod,
  Roll,
} from '@quayside/shoot';
import type { StopSignal } from './step.ts';

/** What the built-in steps need beyond a guest's rights, by name. */
export interface Capabilities {
  readonly footage: Footage;
  readonly rolls: Rolls;
  readonly manifests: Manifests;
  readonly messages: Messages;
  readonly facts: Facts;
  readonly shoots: Shoots;
}

export type CapabilityName = keyof Capabilities;

/** A destination as the work sees it. `id` is in the marker file at its root; a root without it is not the destination. */
export interface Destination {
  readonly name: string;
  readonly root: string;
  readonly id: string;
}

export interface WorkControls {
  readonly signal: StopSignal;
  /** Told now and then how many more bytes have been read, each byte once however many destinations it goes to. */
  readonly onBytes: (bytes: number) => void;
}

/** Moving and proving: the only way to the bytes of footage. A source is only ever opened for reading. */
export interface Footage {
  /**
   * Copies a parcel: one read of the source feeds every destination and every digest. Staged, synced, renamed; what is
   * already there and proven is left alone. One outcome per file and destination, also for those that failed.
   * @throws QuaysideError with `retry: 'source'` when the volume is away; outcomes so far are in the ledgers.
   */
  copy(request: CopyRequest, controls: WorkControls): Promise<readonly CopyOutcome[]>;
  /**
   * Copies a parcel to destinations that lack it from its proven copies at another one, for when the drive is away. A copy
   * gets its name only if what was read is what was proven; one that is not is read back there, recorded and set aside.
   * @throws QuaysideError `COPIES_AWAY` with `retry: 'later'` when the destination that has the copies is away.
   */
  recopy(request: RecopyRequest, controls: WorkControls): Promise<RecopyOutcome>;
  /** Reads a parcel's copies at one destination back from the medium and compares them with what the source gave. */
  readBack(request: ReadBackRequest, controls: WorkControls): Promise<readonly ReadBackOutcome[]>;
}

export interface CopyRequest {
  readonly mount: Mount;
  readonly roll: { readonly id: string; readonly folder: string };
  readonly files: readonly FileEntry[];
  readonly destinations: readonly Destination[];
  readonly algorithms: readonly HashAlgorithm[];
  /** `twice`: every file is read a second time and compared before it becomes a copy. `once` when not given. */
  readonly reads?: 'once' | 'twice';
}

export type CopyOutcome = { readonly path: string; readonly destination: string } & (
  | {
      readonly state: 'written';
      readonly storedPath: string;
      readonly digests: Digests;
      /** True when nothing had to be copied: it was there, and the ledger or a fresh comparison says it is the same. */
      readonly already: boolean;
    }
  | { readonly state: 'failed'; readonly failure: Failure }
);

export interface RecopyRequest {
  readonly roll: { readonly id: string; readonly folder: string };
  readonly files: readonly FileEntry[];
  readonly from: Destination;
  readonly destinations: readonly Destination[];
  readonly algorithms: readonly HashAlgorithm[];
}

export interface RecopyOutcome {
  readonly copies: readonly CopyOutcome[];
  /** The copies that were to be read and are bad or gone. */
  readonly bad: readonly { readonly path: string; readonly failure: Failure }[];
}

export interface ReadBackRequest {
  readonly roll: { readonly id: string; readonly folder: string };
  readonly paths: readonly string[];
  readonly destination: Destination;
  /**
   * Reads also what was proven before this moment, though nobody has written to it since: a medium may have rotted. Without it
   * what was proven and is untouched counts as it is.
   */
  readonly notSince?: Instant;
}

export type ReadBackOutcome = { readonly path: string } & (
  | {
      readonly state: 'verified';
      readonly storedPath: string;
      readonly digests: Digests;
      readonly method: ReadBackMethod;
    }
  | { readonly state: 'failed'; readonly failure: Failure }
);

/** The roll that a run is about, and the details that lie beside its state. */
export interface Rolls {
  /**
   * Opens the roll of a settled volume, or goes on with the one its files belong to. Null when the volume is away again,
   * is unclaimed, or its content is no longer the one with this fingerprint.
   */
  takeIn(volumeKey: string, fingerprint: string): Promise<string | null>;
  /** @throws QuaysideError `UNKNOWN_ROLL` */
  roll(rollId: string): Promise<Roll>;
  parcelFiles(rollId: string, visit: number, parcel: number): Promise<readonly FileEntry[]>;
  /** Keeps the fast view of copies per file; what proves them is in the ledger and the manifest. */
  noteCopies(rollId: string, outcomes: readonly CopyOutcome[]): Promise<void>;
  noteReadBack(rollId: string, destination: string, outcomes: readonly ReadBackOutcome[]): Promise<void>;
  destinations(names: readonly string[]): Promise<readonly Destination[]>;
}

/** Sealing and judging: the manifests beside the footage, and the evidence they and the media give. */
export interface Manifests {
  /** Writes and syncs the next generation of the roll's ASC MHL history at one destination; the same content is not written twice. */
  seal(
    rollId: string,
    destination: string,
    signal: StopSignal,
  ): Promise<{
    readonly generation: number;
    readonly fileCount: number;
    /** Since when everything there has been read back from the medium. */
    readonly readBackAt: Instant;
  }>;
  /**
   * Sees to it that the roll's ledger at a destination knows these files, from what the record and the manifests there prove:
   * the ledger may be deleted at any time.
   */
  restoreLedger(rollId: string, destination: string, paths: readonly string[]): Promise<void>;
  /**
   * Puts on record what a whole reading again has found: the next generation of the roll's history, with all that was read
   * back since that moment. Asked for again, it writes nothing.
   */
  attest(
    rollId: string,
    destination: string,
    since: Instant,
  ): Promise<{ readonly generation: number; readonly readBackAt: Instant }>;
  /** Moves the roll's folder to another shoot at every destination that takes it. */
  move(rollId: string, toShoot: string): Promise<void>;
  /** Judges a roll from what lies on the media at this moment, never from job states. */
  judge(
    rollId: string,
    signal: StopSignal,
  ): Promise<{
    readonly clearance: Clearance;
    readonly findings: readonly Finding[];
    /** Copies that a later look found bad: they are to be made anew. */
    readonly bad: readonly { readonly parcel: number; readonly destination: string; readonly failure: Failure }[];
  }>;
}

/** What the files of a roll are, read apart from the worker so that no file can hang or kill it. */
export interface Facts {
  /**
   * The facts of one file of a roll, from a few megabytes of it. A file that is no media, or is damaged, is a fact too.
   * @throws QuaysideError with `retry: 'source'` when the volume is away, `FILE_CHANGED` when it is not the file that was listed
   */
  read(rollId: string, file: FileEntry, signal: StopSignal): Promise<MediaFacts>;
  /** What is known of the roll's files already. */
  known(rollId: string): Promise<readonly FileFacts[]>;
  keep(rollId: string, files: readonly FileFacts[]): Promise<void>;
}

/** What is known of a whole shoot, and its folder of records beside the footage. */
export interface Shoots {
  material(shootId: string): Promise<ShootMaterial>;
  /** The destinations that hold sealed rolls of the shoot, and where its proven clips lie at each. */
  places(shootId: string): Promise<readonly ShootPlace[]>;
  /** What making proxies took on this machine, in the shape that the rendering told it, the newest last. */
  measuredProxies(): Promise<readonly unknown[]>;
  /** What is free for proxies, where they would lie, without what must stay free and what rolls still bring; null when that is away. */
  roomForProxies(): Promise<{ readonly place: string; readonly bytes: number } | null>;
  /** Puts these files into the shoot's records at one destination, each whole or not at all, and takes away what it wrote there before and is not among them. */
  write(shootId: string, destination: string, files: ReadonlyMap<string, string>): Promise<void>;
}

export interface ShootMaterial {
  readonly name: string;
  readonly clips: readonly Clip[];
  /** The state that the clips' facts are of. */
  readonly factsState: string;
  /** The state that the records should show. */
  readonly recordsState: string;
  /** The grouping as last worked out, in the shape that the grouping step gave it, or null. */
  readonly grouping: unknown;
  /** The state of groups and policy that a plan of proxies made now is of. */
  readonly planState: string;
  /** The plan as last made, in the shape that the planning step gave it, or null. */
  readonly proxyPlan: unknown;
  /** How far the proxies of the plan are, by clip, as the planning's own `ClipRendering`. */
  readonly renderings: ReadonlyMap<string, unknown>;
  readonly acknowledgements: Readonly<Record<string, Acknowledgement>>;
}

export interface ShootPlace {
  readonly destination: string;
  /** By clip id: the path below the shoot's folder, with `/` between parts. */
  readonly paths: ReadonlyMap<string, string>;
  /** The same of the proxies that were made and kept. */
  readonly proxies: ReadonlyMap<string, string>;
  /** What plugins made of the shoot, as the records of their runs beside the footage tell it. */
  readonly guests: readonly GuestResult[];
}

/** A run of a plugin's step that ended well. */
export interface GuestResult extends Pick<
  GuestRunRecord,
  'step' | 'version' | 'subject' | 'endedAt' | 'output' | 'findings'
> {
  /** `place` is where a file lies below the shoot's folder at this destination; when it is not there, `elsewhere` names those that have it. */
  readonly files: readonly {
    readonly path: string;
    readonly place: string | null;
    readonly elsewhere: readonly string[];
  }[];
}

export interface Messages {
  /** Tells people one matter of a roll: the service's log, and the channels of the configuration. Settles when it is on record. */
  tell(message: {
    readonly severity: 'info' | 'warning' | 'critical';
    /** The roll. */
    readonly subject: string;
    readonly matter: string;
    readonly sentence: string;
  }): Promise<void>;
}

import type {
  Clearance,
  Failure,
  Finding,
  Instant,
  Mount,
  RecorderRole,
  RollFacts,
  VolumeIdentity,
} from '@quayside/shoot';

/** What an intake found and decided about a volume that settled. */
export interface ListedRoll {
  readonly id: string;
  readonly shootId: string;
  readonly recorder: string;
  readonly role: RecorderRole;
  readonly volume: VolumeIdentity;
  readonly mount: Mount;
  readonly fingerprint: string;
  readonly litterCount: number;
  /** How often a bad copy is made anew by itself; twice when it is not said. */
  readonly repairLimit?: number;
  /** `due` has copying wait for the facts, so that its order can follow the sync groups. */
  readonly facts: RollFacts;
  readonly parcels: readonly { readonly firstPath: string; readonly fileCount: number; readonly sizeInBytes: number }[];
  /** Null for a destination that takes the roll, else why it is skipped. */
  readonly destinations: Readonly<Record<string, Failure | null>>;
  readonly findings: readonly Finding[];
}

/** What the records beside the footage say of a roll, read from all destinations together. */
export interface RecordedRoll {
  readonly id: string;
  readonly shootId: string;
  readonly recorder: string;
  readonly role: RecorderRole;
  readonly volume: VolumeIdentity;
  readonly visit: number;
  /** Of the files on record when all of them are proven at every destination; else empty, so that the drive is taken in anew. */
  readonly fingerprint: string;
  readonly openedAt: Instant;
  /** When the latest of the records was written. */
  readonly sealedAt: Instant;
  readonly repairLimit: number;
  readonly parcels: readonly {
    readonly firstPath: string;
    readonly fileCount: number;
    readonly sizeInBytes: number;
    /** The destinations whose record holds every file of it. */
    readonly provenAt: readonly string[];
  }[];
  /** By destination: the generation of the manifest on record, and since when all of it has been read back. */
  readonly destinations: Readonly<Record<string, { readonly generation: number; readonly readBackAt: Instant }>>;
}

/** A copy that was proven and is bad. */
export interface BadCopy {
  readonly parcel: number;
  readonly destination: string;
  readonly failure: Failure;
}

/** How the files of one parcel fared at one destination, taken together: the first failure, or null when all went well. */
export type ParcelOutcome = Readonly<Record<string, Failure | null>>;

/** The steps of a roll whose failures can be taken up again. */
export const RETRY_STEPS = ['probe', 'ingest', 'checksum', 'seal', 'clearance'] as const;
export type RetryStep = (typeof RETRY_STEPS)[number];

/** What somebody wants taken up again of a roll. */
export interface RetryWish {
  /** Null for all of them. */
  readonly destination: string | null;
  /** Only what failed in this step; without it, in any. */
  readonly step?: RetryStep;
  /** Only what one run was to copy or to read back. */
  readonly run?: { readonly parcel: number; readonly destinations: readonly string[] };
  /** Asked for many rolls at once: one that only waits for its drive is not gone through. */
  readonly isOneOfMany?: boolean;
}

/** Everything that can happen to a roll. Events about an earlier visit are let pass without effect. */
export type RollEvent =
  | { readonly type: 'listed'; readonly roll: ListedRoll }
  | {
      readonly type: 'factsRead';
      readonly visit: number;
      /** False when the time for it was over: the rest is read beside the copying. */
      readonly isComplete: boolean;
      readonly findings: readonly Finding[];
    }
  | { readonly type: 'ordered'; readonly visit: number; readonly order: readonly number[] }
  | {
      readonly type: 'parcelStarted';
      readonly visit: number;
      readonly parcel: number;
      readonly destinations: readonly string[];
    }
  | {
      readonly type: 'parcelCopied';
      readonly visit: number;
      readonly parcel: number;
      readonly outcome: ParcelOutcome;
      readonly findings: readonly Finding[];
    }
  | {
      /** Copied from the proven copy at another destination, because the drive was away. */
      readonly type: 'parcelRecopied';
      readonly visit: number;
      readonly parcel: number;
      readonly from: string;
      /** Why the copy that was read turned out to be bad; null when it is what it was proven to be. */
      readonly fromFailure: Failure | null;
      readonly outcome: ParcelOutcome;
      readonly findings: readonly Finding[];
    }
  | {
      readonly type: 'parcelReadBack';
      readonly visit: number;
      readonly parcel: number;
      readonly destination: string;
      readonly failure: Failure | null;
      readonly findings: readonly Finding[];
    }
  | {
      readonly type: 'sealed';
      readonly visit: number;
      readonly destination: string;
      readonly attempt: number;
      readonly generation: number;
      /** Since when everything sealed there has been read back; not said by runs of before a change of the service. */
      readonly readBackAt?: Instant;
    }
  | {
      readonly type: 'sealFailed';
      readonly visit: number;
      readonly destination: string;
      readonly attempt: number;
      readonly failure: Failure;
    }
  /** Everything at these destinations is to be read again; where that is under way already, it goes on as it is. */
  | { readonly type: 'rereadRequested'; readonly destinations: readonly string[]; readonly since: Instant }
  | {
      readonly type: 'parcelReread';
      readonly visit: number;
      readonly destination: string;
      readonly since: Instant;
      readonly parcel: number;
      /** Files that are bad or gone, and the first failure among them. */
      readonly badFiles: number;
      readonly failure: Failure | null;
      readonly findings: readonly Finding[];
    }
  | {
      /** A whole reading again is on record in the manifests. */
      readonly type: 'rereadRecorded';
      readonly visit: number;
      readonly destination: string;
      readonly since: Instant;
      readonly generation: number;
      readonly readBackAt: Instant;
    }
  | {
      readonly type: 'rereadFailed';
      readonly visit: number;
      readonly destination: string;
      readonly since: Instant;
      readonly failure: Failure;
      readonly findings: readonly Finding[];
    }
  | {
      readonly type: 'judged';
      readonly due: number;
      readonly clearance: Clearance;
      readonly findings: readonly Finding[];
      /** Copies that count as proven here and that the media say are bad. */
      readonly bad?: readonly BadCopy[];
    }
  | { readonly type: 'told'; readonly matter: string }
  | {
      /** A copy was broken off; so many bytes of it lie durably at each destination, to be gone on with. */
      readonly type: 'parcelInterrupted';
      readonly visit: number;
      readonly parcel: number;
      readonly partBytes: Readonly<Record<string, number>>;
    }
  /** Somebody had the view remade from the records, and this one is new to it or differs. */
  | { readonly type: 'recordFound'; readonly record: RecordedRoll }
  | { readonly type: 'volumeLeft' }
  /** It is mounted, and every read of it fails. */
  | { readonly type: 'volumeSilent'; readonly mountId: string }
  /** The watcher has just started, and has not seen yet which drives are there. */
  | { readonly type: 'volumeSought' }
  | { readonly type: 'volumeReturned'; readonly mount: Mount }
  | { readonly type: 'volumeChanged' }
  | { readonly type: 'destinationReturned'; readonly destination: string }
  | (RetryWish & { readonly type: 'retryRequested' })
  | { readonly type: 'retryDue' }
  | { readonly type: 'moveRequested'; readonly shootId: string }
  | { readonly type: 'moved'; readonly shootId: string }
  | { readonly type: 'moveFailed'; readonly finding: Finding }
  | { readonly type: 'recheckRequested' };

import type { ReadBackMethod, VolumeListing } from '@quayside/shoot';

/** What the media said at the moment of judging. Gathered by an adapter; nothing in it comes from a job's state. */
export interface Evidence {
  readonly volume: VolumeEvidence;
  readonly destinations: readonly DestinationEvidence[];
}

export type VolumeEvidence =
  | {
      readonly state: 'listed';
      readonly listing: VolumeListing;
      /** Where other volumes of the same disk are mounted. */
      readonly neighbours: readonly string[];
    }
  | { readonly state: 'away' | 'unreadable'; readonly why: string };

export type DestinationEvidence = { readonly name: string } & (
  | {
      /** The manifest history is sound and the roll's record agrees with it. */
      readonly state: 'sealed';
      /**
       * Destinations with one number lie on one device and count once. `memory` is no copy at all, nor is `drive`: the disk
       * whose volume is being judged. `unknown` may be the device of any other destination.
       */
      readonly device: number | 'memory' | 'drive' | 'unknown';
      readonly copies: ReadonlyMap<string, ProvenCopy>;
      /** Files of which the manifests say that a later look found the copy changed; they are not among `copies`. */
      readonly bad: readonly string[];
    }
  /** `away`: not there. `skipped`: it never took the roll. `unsealed`: no manifest covers the roll yet. `damaged`: its manifest cannot be relied on. */
  | { readonly state: 'away' | 'skipped' | 'unsealed' | 'damaged'; readonly why: string }
);

/** One file that a sealed manifest says was read back and proven, and whether its copy is still there. */
export interface ProvenCopy {
  readonly sizeInBytes: number;
  readonly modifiedMs: number;
  readonly method: ReadBackMethod;
  readonly storedPath: string;
  /** Whether the stored file exists now with exactly this size. */
  readonly isPresent: boolean;
}

/** What the operator has decided about how much proof is enough. */
export interface ClearancePolicy {
  /** Verified copies wanted of every file. */
  readonly copies: number;
  /** Whether two destinations on one device may count as two. */
  readonly sameDevice: 'hold' | 'accept';
  /** Whether a read-back that may have come from memory counts. */
  readonly cachedReadBack: 'hold' | 'accept';
}

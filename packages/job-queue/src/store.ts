import type { Copy, FileEntry, PipelineEvent, Roll, Shoot, StreamedEvent, Volume, VolumeListing } from '@quayside/shoot';

/**
 * The fast view in Redis: state per shoot, volume, roll and copy, and the event stream. It may be lost at any moment;
 * nothing in it proves footage safe. Every write of a roll goes through `changeRoll`, so two processes never overwrite
 * each other's change.
 */
export interface Store {
  rolls(): Promise<readonly Roll[]>;
  roll(id: string): Promise<Roll | null>;
  /**
   * Loads a roll, applies `change` and writes the result if nobody else wrote meanwhile, else tries again with the newer
   * state: `change` may be called several times and must be pure. Returning the same object writes nothing.
   */
  changeRoll(id: string, change: (roll: Roll | null) => Roll): Promise<{ readonly before: Roll | null; readonly after: Roll }>;

  saveParcels(rollId: string, visit: number, parcels: readonly (readonly FileEntry[])[]): Promise<void>;
  parcelFiles(rollId: string, visit: number, parcel: number): Promise<readonly FileEntry[]>;

  /** Copies of a roll's files by destination: `{ [destination]: { [path]: Copy } }`. */
  copies(rollId: string): Promise<Readonly<Record<string, Readonly<Record<string, Copy>>>>>;
  noteCopies(rollId: string, destination: string, copies: Readonly<Record<string, Copy>>): Promise<void>;

  /** Bytes moved so far in this visit; kept for progress bars only. `at` is milliseconds since 1970. */
  progress(rollId: string): Promise<RollProgress | null>;
  noteProgress(rollId: string, progress: RollProgress): Promise<void>;

  volumes(): Promise<readonly Volume[]>;
  volume(key: string): Promise<Volume | null>;
  saveVolume(volume: Volume): Promise<void>;
  listing(volumeKey: string): Promise<VolumeListing | null>;
  saveListing(volumeKey: string, listing: VolumeListing): Promise<void>;
  assignments(): Promise<Readonly<Record<string, Assignment>>>;
  assign(volumeKey: string, assignment: Assignment): Promise<void>;

  shoots(): Promise<readonly Shoot[]>;
  shoot(id: string): Promise<Shoot | null>;
  saveShoot(shoot: Shoot): Promise<void>;

  /** Named values with a time to live, for heartbeats such as `worker` and `watcher`. */
  beat(name: string, ttlMs: number, value: string): Promise<void>;
  beats(): Promise<Readonly<Record<string, string>>>;

  publish(events: readonly PipelineEvent[]): Promise<void>;
  /** The events after `afterId` (exclusive; `'0'` for all that is kept), oldest first. */
  eventsAfter(afterId: string, limit: number): Promise<readonly StreamedEvent[]>;
  /** Follows the stream from after `afterId` (or `'$'`: from now) until the signal aborts. */
  follow(afterId: string, signal: AbortSignal): AsyncIterable<StreamedEvent>;

  /** True when the view holds nothing at all: new, or lost. */
  isEmpty(): Promise<boolean>;
  ping(): Promise<void>;
  close(): Promise<void>;
}

export interface RollProgress {
  readonly visit: number;
  readonly copiedBytes: number;
  readonly verifiedBytes: number;
  readonly bytesPerSecond: number;
  readonly at: number;
}

export interface Assignment {
  readonly recorder: string;
  readonly shootId: string | null;
}

import type { Parcel, ParcelCopy, Roll } from '@quayside/shoot';
import { takingDestinations } from './activity.ts';

export interface BytesDone {
  readonly copiedBytes: number;
  readonly verifiedBytes: number;
  readonly bytesPerSecond: number;
}

export interface RollNumbers {
  /** Bytes of the volume, once: what must be written to each destination. */
  readonly totalBytes: number;
  /** Share of all work (each byte is written and read back at each destination), 0 to 1. */
  readonly fraction: number;
  readonly bytesPerSecond: number;
  /** Seconds left at the present rate, or null when nothing moves. */
  readonly secondsLeft: number | null;
}

/** Progress of a roll from whole parcels (certain) and the bytes of those in flight (a hint). */
export function rollNumbers(roll: Roll, moving: BytesDone | null): RollNumbers {
  const taking = takingDestinations(roll);
  const totalWork = roll.sizeInBytes * taking.length * 2;
  const settled = roll.parcels.reduce(
    (sum, parcel) => sum + taking.reduce((part, name) => part + bytesDone(parcel, parcel.copies[name]), 0),
    0,
  );
  const hinted = moving === null ? 0 : Math.min(moving.copiedBytes + moving.verifiedBytes, totalWork);
  const done = Math.max(settled, hinted);
  const bytesPerSecond = moving?.bytesPerSecond ?? 0;
  const isDone = totalWork === 0 || settled >= totalWork;
  return {
    totalBytes: roll.sizeInBytes,
    fraction: isDone ? 1 : Math.min(done / totalWork, 0.999),
    bytesPerSecond: isDone ? 0 : bytesPerSecond,
    secondsLeft: isDone ? 0 : bytesPerSecond > 0 ? Math.ceil((totalWork - done) / bytesPerSecond) : null,
  };
}

function bytesDone({ sizeInBytes }: Parcel, copy: ParcelCopy | undefined): number {
  if (copy === undefined) return 0;
  return sizeInBytes * WORK_DONE[copy.state] + Math.min(copy.partBytes, sizeInBytes);
}

/** Of the two passes over each byte at a destination, how many are done in each state. A failed copy counts as handled. */
const WORK_DONE = { absent: 0, writing: 0, written: 1, verified: 2, failed: 2 } as const;

import type { FileEntry } from '@quayside/shoot';

export interface ParcelLimits {
  readonly bytes: number;
  readonly files: number;
}

/** Small enough that an interrupted parcel is soon done again, large enough that the queue's share of small files is small. */
export const PARCEL_LIMITS: ParcelLimits = { bytes: 64 * 2 ** 20, files: 512 };

/** Splits files, in their order, into parcels: neighbours until a limit is met; a file over the limit is a parcel alone. */
export function planParcels(
  files: readonly FileEntry[],
  limits: ParcelLimits = PARCEL_LIMITS,
): readonly (readonly FileEntry[])[] {
  const parcels: FileEntry[][] = [];
  let current: FileEntry[] = [];
  let bytes = 0;
  for (const file of files) {
    const isFull = current.length >= limits.files || (current.length > 0 && bytes + file.sizeInBytes > limits.bytes);
    if (isFull) {
      parcels.push(current);
      current = [];
      bytes = 0;
    }
    current.push(file);
    bytes += file.sizeInBytes;
  }
  if (current.length > 0) parcels.push(current);
  return parcels;
}

import type { Parcel, ParcelCopy, Roll } from '@quayside/shoot';

/** Changes the copies of one parcel, by destination. */
export function changeCopies(
  roll: Roll,
  index: number,
  change: (copy: ParcelCopy, destination: string) => ParcelCopy,
): Roll {
  return {
    ...roll,
    parcels: roll.parcels.map((parcel) => (parcel.index === index ? mapCopies(parcel, change) : parcel)),
  };
}

/** Changes a parcel's copies, by destination. */
export function mapCopies(parcel: Parcel, change: (copy: ParcelCopy, destination: string) => ParcelCopy): Parcel {
  return {
    ...parcel,
    copies: Object.fromEntries(Object.entries(parcel.copies).map(([name, copy]) => [name, change(copy, name)])),
  };
}

/** A sync group as the order of copying sees it: which parcels of one roll hold its clips, and how urgent it is. */
export interface GroupToCopy {
  /** Its place among the shoot's groups in the order of recording; higher is newer. */
  readonly place: number;
  /** Whether every recorder that should be in it is. */
  readonly isComplete: boolean;
  readonly parcels: readonly number[];
}

/**
 * The parcels of one roll in the order that makes the newest complete group usable first, then the next, then the
 * incomplete ones, newest first. Parcels of no group are not named: they follow in their own order, so nothing starves.
 */
export function orderParcels(groups: readonly GroupToCopy[]): readonly number[] {
  const urgent = groups.toSorted(
    (one, other) => Number(other.isComplete) - Number(one.isComplete) || other.place - one.place,
  );
  return [...new Set(urgent.flatMap(({ parcels }) => parcels.toSorted((one, other) => one - other)))];
}

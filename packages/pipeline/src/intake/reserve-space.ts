import type { Failure, Roll } from '@quayside/shoot';

export interface Space {
  readonly destination: string;
  readonly freeBytes: number;
  /** What the operator wants to stay free. */
  readonly keepFreeBytes: number;
}

/**
 * Whether a whole roll fits at a destination beside what other rolls have still to bring there. Null when it fits, else
 * why it is skipped. Asked before the first byte, with the roll's own earlier state left out of `others`.
 */
export function reserveSpace(sizeInBytes: number, space: Space, others: readonly Roll[]): Failure | null {
  const promised = others.reduce((sum, roll) => sum + bytesStillToCome(roll, space.destination), 0);
  const available = space.freeBytes - space.keepFreeBytes - promised;
  if (sizeInBytes <= available) return null;
  return {
    code: 'DESTINATION_TOO_SMALL',
    sentence:
      `Destination ${space.destination} has ${inGib(space.freeBytes)} free, of which ${inGib(space.keepFreeBytes)} stay free and ` +
      `${inGib(promised)} are promised to other rolls; this roll needs ${inGib(sizeInBytes)}. Make room there; it goes on by itself.`,
    retry: 'destination',
  };
}

function inGib(bytes: number): string {
  return `${(bytes / 2 ** 30).toFixed(2)} GiB`;
}

/** Bytes of a roll that a destination has promised to take and has not yet written. */
export function bytesStillToCome(roll: Roll, destination: string): number {
  if (roll.destinations[destination]?.standing !== 'taking') return 0;
  return roll.parcels.reduce((sum, parcel) => {
    const state = parcel.copies[destination]?.state;
    return state === 'absent' || state === 'writing' ? sum + parcel.sizeInBytes : sum;
  }, 0);
}

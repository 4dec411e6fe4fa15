import type { Roll } from '@quayside/shoot';

/** Whether a manifest of this roll was ever written anywhere, in this visit or an earlier one. */
export function wasSealed(roll: Roll): boolean {
  return roll.wasSealed || Object.values(roll.destinations).some(({ sealedGeneration }) => sealedGeneration !== null);
}

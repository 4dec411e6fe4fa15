import type { Roll } from '@quayside/shoot';

/** The destinations at which all of a roll is verified and sealed, so that a guest may see it there; none while it moves. */
export function provenAt(roll: Roll): readonly string[] {
  if (roll.movingTo !== null) return [];
  return Object.entries(roll.destinations)
    .filter(([, { sealedGeneration }]) => sealedGeneration !== null)
    .map(([name]) => name)
    .filter((name) => roll.parcels.every(({ copies }) => copies[name]?.state === 'verified'));
}

import type { Scene } from '../scene.ts';
import type { GivenVerdict } from './witness.ts';

interface Cleared {
  readonly roll: GivenVerdict['roll'];
  readonly footage: ReadonlyMap<string, string>;
}

/**
 * Compares, at the end, every byte at every destination with the source: each file must be there, whole and listed, and
 * nothing that no drive ever held may carry a final name.
 */
export async function findLosses(scene: Scene, cleared: readonly Cleared[]): Promise<readonly string[]> {
  const losses: string[] = [];
  for (const { roll, footage } of cleared) {
    const drive = scene.drives.get(roll.recorder);
    const known = new Set([...(drive?.everyDigest() ?? []), ...scene.truth.alterations.map(({ after }) => after)]);
    for (const { destination, stored, proven, faults } of await scene.truth.lookAt(roll, Date.now())) {
      losses.push(...faults);
      for (const [path, digest] of footage) {
        const isThere = [...stored].some(([at, found]) => found === digest && proven.has(at));
        if (!isThere) losses.push(`${destination} lacks "${path}" of ${roll.id}`);
      }
      for (const [path, digest] of stored)
        if (!known.has(digest))
          losses.push(`${destination} holds bytes as "${path}" of ${roll.id} that no drive ever held`);
    }
  }
  return losses;
}

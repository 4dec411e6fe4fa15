import type { Store } from '@quayside/job-queue';
import type { BadCopy, Evidence } from '@quayside/pipeline';
import type { Roll } from '@quayside/shoot';

/** The copies that the manifests say are bad, say since `verify` was run, by parcel: they are made anew. */
export async function badCopies(store: Store, roll: Roll, { destinations }: Evidence): Promise<readonly BadCopy[]> {
  const bad = destinations.flatMap((destination) =>
    destination.state === 'sealed' ? destination.bad.map((path) => ({ path, destination: destination.name })) : [],
  );
  if (bad.length === 0) return [];
  const parcelOf = new Map<string, number>();
  for (const { index } of roll.parcels)
    for (const { path } of await store.parcelFiles(roll.id, roll.visit, index)) parcelOf.set(path, index);
  return bad.flatMap(({ path, destination }): BadCopy[] => {
    const parcel = parcelOf.get(path);
    return parcel === undefined ? [] : [{ parcel, destination, failure: damaged(path, destination) }];
  });
}

function damaged(path: string, destination: string): BadCopy['failure'] {
  return {
    code: 'COPY_DAMAGED',
    sentence: `The copy of "${path}" at ${destination} was proven and has been found changed since, as the manifest there says. Check that destination's disk.`,
    retry: 'copy',
  };
}

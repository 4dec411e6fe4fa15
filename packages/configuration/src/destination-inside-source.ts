import type { Failure, Mount } from '@quayside/shoot';
import { isAtOrBelow } from './is-at-or-below.ts';

/** A destination by its real path: links resolved, or a link into a source would go unseen. */
export interface DestinationPlace {
  readonly name: string;
  readonly path: string;
}

/**
 * One failure for each destination that lies on a source volume, where writing is forbidden. `sources` are the mounts
 * that are taken for recorders' drives now; give real paths. The one check of a destination that only works at run time.
 */
export function destinationInsideSource(
  destinations: readonly DestinationPlace[],
  sources: readonly Pick<Mount, 'path'>[],
): Failure[] {
  return destinations.flatMap(({ name, path }) => {
    const source = sources.find((mount) => isAtOrBelow(path, mount.path));
    if (source === undefined) return [];
    const sentence = `Destination "${name}" (${path}) lies on the volume at ${source.path}, which is a source, and a source is never written. Move the destination to another drive.`;
    return [{ code: 'DESTINATION_INSIDE_SOURCE', sentence, retry: 'never' }];
  });
}

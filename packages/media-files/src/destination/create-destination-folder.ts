import { QuaysideError } from '@quayside/shoot';
import { createFolderDurably } from '../durable/create-folder-durably.ts';
import { readDestinationMarker } from './marker.ts';

/**
 * Creates a folder below a destination's root, and what is missing above it. Where the destination was unmounted its path
 * is an empty folder of another disk: nothing is made in that, and what would be lost there is not written.
 * @throws QuaysideError `DESTINATION_NOT_MOUNTED`
 */
export async function createDestinationFolder(root: string, folder: string): Promise<void> {
  if ((await readDestinationMarker(root)) !== null) return createFolderDurably(folder);
  throw new QuaysideError({
    code: 'DESTINATION_NOT_MOUNTED',
    sentence: `The destination at ${root} was unmounted before what was done there could be recorded. Connect it; that work is done again by itself.`,
    retry: 'destination',
  });
}

import { constants } from 'node:fs';
import { join, relative } from 'node:path';
import { QuaysideError } from '@quayside/shoot';
import { fileCalls } from '../direct-io/file-calls.ts';
import { createFolderDurably } from '../durable/create-folder-durably.ts';
import { readDestinationMarker } from './marker.ts';

/**
 * Creates a folder below a destination's root, and what is missing above it. Where the destination was unmounted its path
 * is an empty folder of another disk: nothing is made in that, and what would be lost there is not written.
 * @throws QuaysideError `DESTINATION_NOT_MOUNTED`
 */
export async function createDestinationFolder(root: string, folder: string): Promise<void> {
  const fd = await fileCalls.open(root, constants.O_RDONLY | constants.O_DIRECTORY);
  try {
    // Held open, the root stays the one that was looked at, whatever is mounted or unmounted at its path meanwhile.
    const held = process.platform === 'linux' ? `/proc/self/fd/${fd}` : root;
    if ((await readDestinationMarker(held)) === null) throw notMounted(root);
    await createFolderDurably(join(held, relative(root, folder)));
  } finally {
    await fileCalls.close(fd);
  }
}

function notMounted(root: string): QuaysideError {
  return new QuaysideError({
    code: 'DESTINATION_NOT_MOUNTED',
    sentence: `The destination at ${root} was unmounted before what was done there could be recorded. Connect it; that work is done again by itself.`,
    retry: 'destination',
  });
}

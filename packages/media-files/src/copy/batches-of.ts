import type { FileEntry } from '@quayside/shoot';
import { isSmall } from '../workbench/workbench.ts';

/** Each file of a batch is open at every destination at once, so this bounds the open files too. */
const MOST_FILES = 256;

/** Cuts a parcel into what is staged, synced and named together: neighbours that are small, and each larger file alone. */
export function batchesOf(files: readonly FileEntry[]): FileEntry[][] {
  const batches: FileEntry[][] = [];
  let small: FileEntry[] = [];
  for (const file of files) {
    if (!isSmall(file.sizeInBytes)) {
      batches.push([file]);
      continue;
    }
    if (small.length === 0) batches.push(small);
    small.push(file);
    if (small.length === MOST_FILES) small = [];
  }
  return batches;
}

import type { FileEntry } from '@quayside/shoot';
import type { StepContext } from '@quayside/step-sdk/built-in';

/**
 * Gives what adds up the bytes that have passed the source and tells the share of all that the files come to at so many
 * destinations.
 */
export function tellProgress(
  context: Pick<StepContext, 'progress'>,
  files: readonly FileEntry[],
  destinationCount: number,
): (bytes: number) => void {
  const totalBytes = files.reduce((sum, file) => sum + file.sizeInBytes, 0) * destinationCount;
  let movedBytes = 0;
  return (bytes) => {
    movedBytes += bytes * destinationCount;
    context.progress({ fraction: totalBytes === 0 ? 1 : movedBytes / totalBytes, bytes: movedBytes });
  };
}

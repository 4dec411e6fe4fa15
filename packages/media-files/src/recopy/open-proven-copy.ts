import { constants } from 'node:fs';
import { type FileEntry, QuaysideError } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { fileCalls } from '../direct-io/file-calls.ts';
import { openPastCache } from '../direct-io/open-past-cache.ts';
import { openFileCalls } from '../direct-io/prompt-calls.ts';
import type { LedgerView } from '../ledger/ledger-view.ts';
import { diskPath } from '../names/disk-path.ts';
import type { OpenSource } from '../source/open-source.ts';

export interface ProvenCopies {
  readonly from: Destination;
  readonly rollFolder: string;
  readonly ledger: LedgerView;
  readonly files: readonly FileEntry[];
}

/**
 * Gives what opens proven copies for reading in the place of a roll's files, past the page cache where that is possible. A
 * copy that nobody has written to since it was proven shows its file's own time, which not every file system can keep.
 */
export function createCopyOpener({ from, rollFolder, ledger, files }: ProvenCopies): OpenSource {
  const listed = new Map(files.map((file) => [file.path, file]));
  return async (path) => {
    const record = ledger.files.get(path);
    const file = listed.get(path);
    if (record?.state !== 'verified' || file === undefined) throw notProven(path, from);
    const place = diskPath(from.root, rollFolder, record.storedPath);
    const { fd } = await openPastCache(place, constants.O_RDONLY | constants.O_NOFOLLOW);
    return {
      readAt: (bytes, position) => fileCalls.read(fd, bytes, position),
      stat: async () => {
        const { size, mtimeMs, ctimeMs } = await openFileCalls.stat(fd);
        const { storedTimes } = record;
        const isUntouched = storedTimes?.modifiedMs === mtimeMs && storedTimes.changedMs === ctimeMs;
        return { size, mtimeMs: isUntouched ? file.modifiedMs : mtimeMs, ctimeMs };
      },
      close: () => openFileCalls.close(fd),
    };
  };
}

function notProven(path: string, { name, root }: Destination): QuaysideError {
  return new QuaysideError({
    code: 'NOT_PROVEN_THERE',
    sentence: `The record at destination ${name} (${root}) does not say that its copy of ${path} is proven, so nothing is copied from there. Connect the drive, or retry the roll.`,
    retry: 'never',
  });
}

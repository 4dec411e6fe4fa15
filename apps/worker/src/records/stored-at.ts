import { bytesFromName } from '@quayside/media-files';

/** The path of a stored file on disk. Names are bytes: one that is not UTF-8 cannot go through a string. */
export function storedAt(rollRoot: string, storedPath: string): Buffer {
  return Buffer.concat([Buffer.from(`${rollRoot}/`), bytesFromName(storedPath)]);
}

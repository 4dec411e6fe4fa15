import type { FileEntry } from '@quayside/shoot';

/** Endings of the containers that recorders write, as is common practice; a file of another name is looked into when it is large. */
const MEDIA_ENDINGS = new Set(
  'mov mp4 m4v mxf mkv avi mts m2ts mpg ts wav bwf rf64 w64 aif aiff flac mp3 m4a'.split(' '),
);
const LARGE_BYTES = 64 * 2 ** 20;

/** Whether a file is worth looking into: thousands of stills and side-cars would cost more than the copying itself. */
export function mayBeMedia({ path, sizeInBytes }: FileEntry): boolean {
  const ending = /\.([^./]+)$/.exec(path)?.[1]?.toLowerCase() ?? '';
  return MEDIA_ENDINGS.has(ending) || sizeInBytes >= LARGE_BYTES;
}

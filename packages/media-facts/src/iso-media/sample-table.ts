import type { FileBytes } from '../file-bytes/file-bytes.ts';
import { type Box, findBox, readBody } from './box.ts';
import type { SampleRun } from './sample-times.ts';

/** More entries than the steadiest recorder needs by far; a track of wholly uneven pictures is judged by its first ones. */
const MOST_RUNS = 250_000;
const MOST_SIZES = 4096;

/** How long each sample of a track lasts (`stts`), in runs. Null when the table is too long to be read whole. */
export function readSampleRuns(file: FileBytes, table: Box | null): readonly SampleRun[] | null {
  const box = findBox(file, table, 'stts');
  if (box === null) return [];
  const count = readBody(file, box, 8).readUInt32BE(4);
  if (count > MOST_RUNS) return null;
  const bytes = file.readAt(box.bodyStart + 8, count * 8);
  return Array.from({ length: count }, (_, index) => ({
    count: bytes.readUInt32BE(index * 8),
    ticks: bytes.readUInt32BE(index * 8 + 4),
  }));
}

/** How much later than decoded the first sample is shown (`ctts`): 0 where pictures are stored as they are shown. */
export function readFirstShift(file: FileBytes, table: Box | null): number {
  const box = findBox(file, table, 'ctts');
  if (box === null) return 0;
  const bytes = readBody(file, box, 16);
  return bytes.length < 16 ? 0 : bytes.readInt32BE(12);
}

/** Where a track's samples begin in the file, and where the last of them ends. */
export interface MediaPlace {
  readonly first: number;
  readonly end: number;
}

/** Reads the place of a track's chunks (`stco` or `co64`, `stsc`, `stsz`). Null when it has none. */
export function readMediaPlace(file: FileBytes, table: Box | null): MediaPlace | null {
  const box = findBox(file, table, 'stco') ?? findBox(file, table, 'co64');
  if (box === null) return null;
  const count = readBody(file, box, 8).readUInt32BE(4);
  if (count === 0) return null;
  const width = box.type === 'co64' ? 8 : 4;
  const placeOf = (index: number): number => {
    const bytes = file.readAt(box.bodyStart + 8 + index * width, width);
    return width === 8 ? Number(bytes.readBigUInt64BE(0)) : bytes.readUInt32BE(0);
  };
  return { first: placeOf(0), end: placeOf(count - 1) + bytesInLastChunk(file, table) };
}

/** At least so many bytes has the last chunk; a longer one is measured by its last samples. */
function bytesInLastChunk(file: FileBytes, table: Box | null): number {
  const sizes = findBox(file, table, 'stsz');
  if (sizes === null) return 0;
  const head = readBody(file, sizes, 12);
  const [commonSize, count] = [head.readUInt32BE(4), head.readUInt32BE(8)];
  const samples = Math.min(count, samplesInLastChunk(file, table));
  if (commonSize > 0) return samples * commonSize;
  const listed = Math.min(samples, MOST_SIZES);
  const bytes = file.readAt(sizes.bodyStart + 12 + (count - listed) * 4, listed * 4);
  let sum = 0;
  for (let index = 0; index < listed; index += 1) sum += bytes.readUInt32BE(index * 4);
  return sum;
}

function samplesInLastChunk(file: FileBytes, table: Box | null): number {
  const box = findBox(file, table, 'stsc');
  if (box === null) return 0;
  const count = readBody(file, box, 8).readUInt32BE(4);
  return count === 0 ? 0 : file.readAt(box.bodyStart + 8 + (count - 1) * 12, 12).readUInt32BE(4);
}

import type { FileBytes } from '../file-bytes/file-bytes.ts';
import { type Box, boxesIn, findBox, readBody } from './box.ts';
import { type Edit, shownPart } from './edits.ts';
import { type FragmentTally, NO_FRAGMENTS } from './read-fragments.ts';
import { type MediaPlace, readFirstShift, readMediaPlace, readSampleRuns } from './sample-table.ts';
import { countSamples, type Pace, paceOf, sumTicks } from './sample-times.ts';
import { parseTimecodeEntry, type TimecodeEntry } from './timecode-entry.ts';

/** One track of an ISO media file, as its own tables tell. */
export interface Track {
  readonly id: number;
  readonly handler: string;
  readonly timescale: number;
  readonly pace: Pace;
  /** What is shown of it, in ticks of `timescale`; null when its tables are too long to be read. */
  readonly shownTicks: number | null;
  /** What the edit list hides before the first sample shown, in ticks. */
  readonly headTicks: number;
  readonly sampleCount: number;
  readonly sampleTicks: number;
  readonly place: MediaPlace | null;
  readonly timecode: TimecodeEntry | null;
  /** The timecode tracks that this track names as its own. */
  readonly timecodeTrackIds: readonly number[];
  /** Width to height of one pixel. */
  readonly pixelAspect: { readonly numerator: number; readonly denominator: number } | null;
}

const MOST_EDITS = 1000;
const LONGEST_ENTRY = 4096;
/** The fixed part of a picture's sample entry; boxes follow it. */
const PICTURE_ENTRY_BYTES = 86;

/** Reads a `trak` box. Null when it lacks what every track has. */
export function readTrack(
  file: FileBytes,
  box: Box,
  film: { readonly timescale: number; readonly fragments: ReadonlyMap<number, FragmentTally> },
): Track | null {
  const header = findBox(file, box, 'tkhd');
  const media = findBox(file, box, 'mdia');
  const mediaHeader = findBox(file, media, 'mdhd');
  const handlerBox = findBox(file, media, 'hdlr');
  const table = findBox(file, findBox(file, media, 'minf'), 'stbl');
  if (header === null || mediaHeader === null || handlerBox === null || table === null) return null;
  const id = readClock(file, header);
  const timescale = readClock(file, mediaHeader);
  const handler = readBody(file, handlerBox, 12).toString('latin1', 8, 12);
  const fragments = film.fragments.get(id) ?? NO_FRAGMENTS;
  const written = readSampleRuns(file, table);
  const runs = [...(written ?? []), ...fragments.runs];
  const ticks = sumTicks(runs);
  const shown = shownPart({
    ticks,
    timescale,
    filmTimescale: film.timescale,
    edits: readEdits(file, findBox(file, findBox(file, box, 'edts'), 'elst')),
    firstShift: readFirstShift(file, table),
  });
  const entry = readEntry(file, findBox(file, table, 'stsd'));
  return {
    id,
    handler,
    timescale,
    // A table too long to be read is one of wholly uneven pictures.
    pace: written === null ? { rate: null, isVariable: true, gaps: null } : paceOf(runs, timescale),
    shownTicks: written === null || !fragments.isWhole ? null : shown.ticks,
    headTicks: shown.headTicks,
    sampleCount: countSamples(runs),
    sampleTicks: ticks,
    place: readMediaPlace(file, table),
    timecode: parseTimecodeEntry(entry),
    timecodeTrackIds: readIds(file, findBox(file, findBox(file, box, 'tref'), 'tmcd')),
    pixelAspect: handler === 'vide' ? readPixelAspect(entry) : null,
  };
}

/** The number after the two times at the start of `tkhd` (the track's id), `mdhd` and `mvhd` (ticks in a second). */
export function readClock(file: FileBytes, box: Box): number {
  const bytes = readBody(file, box, 24);
  return bytes.readUInt32BE(bytes.readUInt8(0) === 1 ? 20 : 12);
}

function readEdits(file: FileBytes, box: Box | null): readonly Edit[] {
  if (box === null) return [];
  const head = readBody(file, box, 8);
  const isLong = head.readUInt8(0) === 1;
  const count = Math.min(head.readUInt32BE(4), MOST_EDITS);
  const width = isLong ? 20 : 12;
  const bytes = file.readAt(box.bodyStart + 8, count * width);
  return Array.from({ length: count }, (_, index) => {
    const start = index * width;
    const duration = isLong ? Number(bytes.readBigUInt64BE(start)) : bytes.readUInt32BE(start);
    const mediaTime = isLong ? Number(bytes.readBigInt64BE(start + 8)) : bytes.readInt32BE(start + 4);
    return { duration, mediaTime: mediaTime < 0 ? null : mediaTime };
  });
}

function readIds(file: FileBytes, box: Box | null): readonly number[] {
  const bytes = box === null ? Buffer.alloc(0) : readBody(file, box, LONGEST_ENTRY);
  return Array.from({ length: Math.floor(bytes.length / 4) }, (_, index) => bytes.readUInt32BE(index * 4));
}

/** The first entry of the sample description, from its size on. */
function readEntry(file: FileBytes, box: Box | null): Buffer {
  if (box === null) return Buffer.alloc(0);
  const bytes = readBody(file, box, 8 + LONGEST_ENTRY).subarray(8);
  return bytes.length < 4 ? bytes : bytes.subarray(0, bytes.readUInt32BE(0));
}

function readPixelAspect(entry: Buffer): { numerator: number; denominator: number } | null {
  const inEntry: FileBytes = {
    size: entry.length,
    readAt: (position, length) => entry.subarray(position, position + length),
    bytesRead: () => 0,
  };
  for (const { type, bodyStart } of boxesIn(inEntry, PICTURE_ENTRY_BYTES, entry.length)) {
    if (type !== 'pasp' || bodyStart + 8 > entry.length) continue;
    const [numerator, denominator] = [entry.readUInt32BE(bodyStart), entry.readUInt32BE(bodyStart + 4)];
    return numerator > 0 && denominator > 0 ? { numerator, denominator } : null;
  }
  return null;
}

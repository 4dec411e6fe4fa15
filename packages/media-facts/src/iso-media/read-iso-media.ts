import type { FileBytes } from '../file-bytes/file-bytes.ts';
import { boxesIn, findBox } from './box.ts';
import { readFragments } from './read-fragments.ts';
import { readClock, readTrack, type Track } from './read-track.ts';
import { readTopLevel, type TopLevel } from './read-top-level.ts';

/** What a QuickTime or MP4 file's own tables say. */
export interface IsoMedia {
  readonly container: 'QuickTime' | 'MPEG-4';
  readonly topLevel: TopLevel;
  readonly tracks: readonly Track[];
}

/**
 * Reads the tables of a QuickTime or MP4 file, and null for any other. Needed beside the library because that one counts sound
 * samples by the millisecond, averages the rate over lost pictures, and reads neither edits nor counts of fragments exactly.
 * @throws RangeError when the tables contradict themselves
 */
export function readIsoMedia(file: FileBytes): IsoMedia | null {
  const topLevel = readTopLevel(file);
  if (topLevel === null) return null;
  return { container: readContainer(file), topLevel, tracks: readTracks(file, topLevel) };
}

/** Files older than the brand have none, and begin with another box. */
function readContainer(file: FileBytes): IsoMedia['container'] {
  const head = file.readAt(0, 12).toString('latin1');
  return head.startsWith('ftyp', 4) && !head.endsWith('qt  ') ? 'MPEG-4' : 'QuickTime';
}

function readTracks(file: FileBytes, { index, fragments }: TopLevel): readonly Track[] {
  const header = findBox(file, index, 'mvhd');
  if (index === null || header === null) return [];
  const film = { timescale: readClock(file, header), fragments: readFragments(file, index, fragments) };
  return [...boxesIn(file, index.bodyStart, index.end)]
    .filter(({ type }) => type === 'trak')
    .flatMap((box) => readTrack(file, box, film) ?? []);
}

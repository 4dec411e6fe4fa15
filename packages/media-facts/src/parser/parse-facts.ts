import type { MediaFacts } from '@quayside/shoot';
import type { FileBytes } from '../file-bytes/file-bytes.ts';
import { type IsoMedia, readIsoMedia } from '../iso-media/read-iso-media.ts';
import type { AskLibrary } from '../library/ask-library.ts';
import { readWave, type Wave } from '../wave/read-wave.ts';
import { damagedFacts } from './damaged-facts.ts';
import { describedFacts } from './described-facts.ts';
import { withIsoMedia } from './with-iso-media.ts';
import { withWave } from './with-wave.ts';

const MIB = 1024 * 1024;
/** Beside the index: the head of the file and of the first picture, which tells its fields and colours. */
const BESIDE_INDEX_BYTES = MIB / 2;
/** The index of a day without a break at 60 pictures a second is about as long. */
const LONGEST_INDEX_BYTES = 32 * MIB;
/** Left to itself the library would read 15 to 70 MB of a long Matroska or transport stream, and gain nothing we ask for. */
const OTHER_BYTES = 2 * MIB;

/**
 * Reads the facts of one file: names and descriptions from the library, numbers from the file's own tables where we read them
 * ourselves. Must run in a process that can be thrown away: nothing here stops a parser that hangs.
 */
export async function parseFacts(file: FileBytes, askLibrary: AskLibrary): Promise<MediaFacts> {
  if (file.size === 0)
    return damagedFacts('zero-length', 'The file is empty: nothing was recorded, or nothing was copied.');
  const wave = readWave(file);
  const { iso, contradiction } = wave === null ? readIsoGuarded(file) : { iso: null, contradiction: null };
  const described = describedFacts(await askLibrary(file, byteLimitFor(wave, iso)), iso !== null);
  const facts = describeAll(file, { described, wave, iso });
  return contradiction === null ? facts : { ...facts, damage: [...facts.damage, contradiction] };
}

function describeAll(
  file: FileBytes,
  found: { readonly described: MediaFacts; readonly wave: Wave | null; readonly iso: IsoMedia | null },
): MediaFacts {
  if (found.wave !== null) return withWave(found.described, found.wave);
  if (found.iso !== null) return withIsoMedia(found.described, found.iso, file);
  return found.described;
}

function readIsoGuarded(file: FileBytes): {
  readonly iso: IsoMedia | null;
  readonly contradiction: MediaFacts['damage'][number] | null;
} {
  try {
    return { iso: readIsoMedia(file), contradiction: null };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const why = `Its index contradicts itself, so its counts are the library's estimate: ${error.message}.`;
    return { iso: null, contradiction: { kind: 'unreadable', why } };
  }
}

function byteLimitFor(wave: Wave | null, iso: IsoMedia | null): number {
  if (wave !== null || iso === null) return OTHER_BYTES;
  const { index } = iso.topLevel;
  const indexBytes = index === null ? 0 : index.end - index.bodyStart;
  return Math.min(indexBytes, LONGEST_INDEX_BYTES) + BESIDE_INDEX_BYTES;
}

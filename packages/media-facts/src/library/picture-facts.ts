import type { PictureFacts, Ratio } from '@quayside/shoot';
import { nearestRate, rational } from '@quayside/timecode';
import type { Described } from './ask-library.ts';
import { ratioNear } from './ratio-near.ts';

/** The names that the trade uses, where the library prefers the standard's. */
const CODEC_NAMES: Readonly<Record<string, string>> = { AVC: 'H.264', HEVC: 'H.265' };

/** The picture of a clip as the library describes it. Null when it gives no size, as for a track it could not read. */
export function pictureFrom(track: Described): PictureFacts | null {
  const [width, height] = [track.number('Width'), track.number('Height')];
  if (!width || !height) return null;
  const rate = rateFrom(track);
  const codec = track.text('Format') ?? track.text('CodecID') ?? 'unknown';
  return {
    codec: CODEC_NAMES[codec] ?? codec,
    profile: track.text('Format_Profile'),
    width,
    height,
    pixelAspect: ratioNear(track.number('PixelAspectRatio')),
    rate,
    // Where it finds no rate at all it says variable too.
    isVariableRate: rate !== null && track.text('FrameRate_Mode') === 'VFR',
    frameCount: frameCountFrom(track),
    scan: scanFrom(track),
    bitDepth: track.number('BitDepth') || null,
    chroma: track.text('ChromaSubsampling'),
    colour: {
      primaries: track.text('colour_primaries'),
      transfer: track.text('transfer_characteristics'),
      matrix: track.text('matrix_coefficients'),
    },
  };
}

function rateFrom(track: Described): Ratio | null {
  const [numerator, denominator] = [track.number('FrameRate_Num'), track.number('FrameRate_Den')];
  if (numerator && denominator) return rational(numerator, denominator);
  const text = track.text('FrameRate');
  const near = text === null ? null : nearestRate(text);
  return near?.ok === true ? { numerator: near.rate.numerator, denominator: near.rate.denominator } : null;
}

/** It counts the pictures that it met, unless the file's head told their number: then the length, in whole milliseconds, knows better. */
function frameCountFrom(track: Described): number | null {
  const [count, seconds, rate] = [track.number('FrameCount'), track.number('Duration'), rateFrom(track)];
  if (count === null || seconds === null || rate === null || track.text('FrameRate_Mode') === 'VFR') return count;
  const expected = Math.round((seconds * rate.numerator) / rate.denominator);
  return Math.abs(expected - count) > 1 ? expected : count;
}

function scanFrom(track: Described): PictureFacts['scan'] {
  const text = track.text('ScanType');
  if (text === 'Progressive') return 'progressive';
  if (text === 'Mixed') return 'mixed';
  // Interlaced by field, by block (MBAFF) or by picture (PAFF): to an editor it is one thing.
  if (text !== null) return 'interlaced';
  // Of H.264 the header alone tells progressive. Which kind of interlaced it is takes the library dozens of pictures, more than
  // it is given, so once it has read the header its silence is the answer.
  const hasReadHeader = track.text('Format') === 'AVC' && track.number('BitDepth') !== null;
  return hasReadHeader ? 'interlaced' : null;
}

import type { Ratio } from '@quayside/shoot';
import { findLabelFault, type Label, countOfLabel, printLabel, type Rate, rateFrom } from '@quayside/timecode';
import type { TimecodeEntry } from './timecode-entry.ts';

/**
 * The label of a clip's first picture, in the picture's own rate. A recorder that counts 25 or 30 at 50 or 60 pictures a
 * second gives two pictures one label; then the first of the two is meant, and the label is that of the full rate.
 * Null when nothing can be counted at such a rate.
 */
export function labelOfSample(
  entry: TimecodeEntry,
  sample: Buffer,
  picture: { readonly rate: Ratio | null; readonly trimmedFrames: number },
): string | null {
  const rate = rateOfBase(entry.base, entry.isDropFrame);
  if (rate === null || sample.length < 4) return null;
  const count = countOfSample(entry, sample, rate);
  const pictureBase = picture.rate === null ? rate.base : Math.round(picture.rate.numerator / picture.rate.denominator);
  const perLabel = [2, 4].find((factor) => pictureBase === factor * rate.base) ?? 1;
  const shownAt = perLabel === 1 ? rate : rateOfBase(pictureBase, entry.isDropFrame);
  if (shownAt === null) return printLabel(count, rate);
  return printLabel(count * perLabel + picture.trimmedFrames, shownAt);
}

/** Labels depend on the base alone, so 24 does for 23.976 as well. */
function rateOfBase(base: number, isDropFrame: boolean): Rate | null {
  if (base === 0) return null;
  const fraction = { numerator: base, denominator: 1 };
  const reading = rateFrom(fraction, isDropFrame ? 'DF' : 'NDF');
  if (reading.ok) return reading.rate;
  // The mark means nothing at a rate that drops no frames.
  const plain = rateFrom(fraction);
  return plain.ok ? plain.rate : null;
}

function countOfSample(entry: TimecodeEntry, sample: Buffer, rate: Rate): number {
  if (entry.isLong && sample.length >= 8) return Number(sample.readBigInt64BE(0));
  if (entry.isCounter) return sample.readUInt32BE(0);
  const number = sample.readInt32BE(0);
  if (number < rate.labelsPerDay) return number;
  const packed = unpackLabel(sample);
  return findLabelFault(packed, rate) === null ? countOfLabel(packed, rate) : number;
}

/** The layout of the oldest files: one byte each for hours, minutes under a sign bit, seconds and frames. */
function unpackLabel(sample: Buffer): Label {
  return {
    hours: sample.readUInt8(0),
    minutes: sample.readUInt8(1) & 0x7f,
    seconds: sample.readUInt8(2),
    frames: sample.readUInt8(3),
  };
}

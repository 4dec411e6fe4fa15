import type { ClipRange } from '@quayside/sync-grouping';
import { floorOf, nearestRate, parseLabel, type Rate, samplesAt } from '@quayside/timecode';
import type { PicturedClip } from './shoot-picture.ts';

/** A file from its first unit (frame or sample) to its last, numbered as the file itself numbers them. */
export interface OwnRange {
  /** The file's own first timecode in frames, or its time reference in samples; 0 where it says neither. */
  readonly start: number;
  readonly length: number;
  readonly isDropFrame: boolean;
}

/** What the whole file covers, in the unit and at the rate of the part that a group uses of it. */
export function ownRangeOf(clip: PicturedClip, part: ClipRange): OwnRange {
  const { start, isDropFrame } = part.unit === 'frames' ? firstFrame(clip, part) : firstSample(clip, part);
  return { start, isDropFrame, length: Math.max(lengthOf(clip, part), part.from + part.length) };
}

function firstFrame({ facts }: PicturedClip, part: ClipRange): Pick<OwnRange, 'start' | 'isDropFrame'> {
  const label = facts.startTimecode;
  const rate = label === null ? null : labelRate(part.rate, /[;.]/.test(label));
  if (label === null || rate === null) return { start: 0, isDropFrame: false };
  const reading = parseLabel(label, rate, { mark: 'ignored' });
  return { start: reading.ok ? reading.count : 0, isDropFrame: rate.drop > 0 };
}

function firstSample({ facts }: PicturedClip, part: ClipRange): Pick<OwnRange, 'start' | 'isDropFrame'> {
  const { wave, startTimecode } = facts;
  const rate = wave?.timecodeRate == null ? null : labelRate(wave.timecodeRate, wave.isDropFrame === true);
  const isDropFrame = rate !== null && rate.drop > 0;
  // EBU Tech 3285: the time reference of `bext` is authoritative; iXML's own count only stands in for it.
  const samples = wave?.timeReference ?? wave?.samplesSinceMidnight ?? null;
  if (samples !== null) return { start: samples, isDropFrame };
  if (startTimecode === null || rate === null) return { start: 0, isDropFrame };
  const reading = parseLabel(startTimecode, rate, { mark: 'ignored' });
  return { start: reading.ok ? floorOf(samplesAt(reading.count, rate, part.rate.numerator)) : 0, isDropFrame };
}

/** A drop-frame mark at a rate that has no drop frame is a recorder's habit, not another rate. */
function labelRate(fraction: ClipRange['rate'], isDropFrame: boolean): Rate | null {
  const found = nearestRate(fraction, isDropFrame ? 'DF' : 'NDF');
  if (found.ok) return found.rate;
  return isDropFrame ? labelRate(fraction, false) : null;
}

function lengthOf({ facts }: PicturedClip, { unit, rate }: ClipRange): number {
  const counted = unit === 'frames' ? facts.picture?.frameCount : facts.sound[0]?.sampleCount;
  return counted ?? Math.round(((facts.durationMs ?? 0) * rate.numerator) / (1000 * rate.denominator));
}

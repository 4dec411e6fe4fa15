import { nearestRate, parseLabel, printLabel, type Rate } from '@quayside/timecode';
import type { Clip } from './clip.ts';

/** Tells the timecode of a clip's frame, counted from 0; null when the clip has none that can be counted on. */
export function frameLabels({ facts }: Clip): (frame: number) => string | null {
  const { picture, startTimecode } = facts;
  if (picture === null || picture.rate === null || picture.isVariableRate || startTimecode === null) return () => null;
  const rate = labelRate(picture.rate, /[;.]/.test(startTimecode));
  if (rate === null) return () => null;
  // A drop-frame mark at a rate that has no drop frame is a recorder's habit, as sync grouping takes it too.
  const first = parseLabel(startTimecode, rate, { mark: 'ignored' });
  return (frame) => (first.ok ? printLabel(first.count + frame, rate) : null);
}

function labelRate(fraction: { numerator: number; denominator: number }, isDropFrame: boolean): Rate | null {
  const found = nearestRate(fraction, isDropFrame ? 'DF' : 'NDF');
  if (found.ok) return found.rate;
  return isDropFrame ? labelRate(fraction, false) : null;
}

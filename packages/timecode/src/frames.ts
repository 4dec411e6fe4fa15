import { addExactly, demandWhole, modulo, toSafeNumber } from './exact-integers.ts';
import { wrapCount } from './label.ts';
import type { Rate } from './rate.ts';

/** The count `frames` later, or earlier when negative, within its day: past midnight it starts at 0 again. */
export function addFrames(count: number, frames: number, rate: Rate): number {
  demandWhole(count, 'frame count');
  demandWhole(frames, 'number of frames to add');
  return wrapCount(toSafeNumber(addExactly(count, frames)), rate);
}

/**
 * Frames from one count to another the shorter way round midnight: negative when `to` is earlier. Half a day apart
 * counts as earlier, so the result lies in -labelsPerDay/2 .. labelsPerDay/2 - 1.
 */
export function differenceInFrames(from: number, to: number, rate: Rate): number {
  const halfDay = rate.labelsPerDay / 2;
  return modulo(wrapCount(to, rate) - wrapCount(from, rate) + halfDay, rate.labelsPerDay) - halfDay;
}

import { countOfLabel, labelOfCount, type Rate } from '@quayside/timecode';
import type { TimedClip } from '../reading/timed-clip.ts';
import { scaleTicks, TICKS_PER_SECOND, ticksAtUnit } from '../ticks.ts';
import { countsAlike } from './reference-rate.ts';

/**
 * The ways in which recorders are known to count. `as-written`: real time since midnight. `same-labels`: it took over the
 * labels of the clock and counted them at its own rate. `stretched` and `squeezed`: samples since midnight made from labels
 * as if they kept to real time, or as if they did not (the 0.1 % between 24 and 24000/1001). `stamped`: as its own
 * timestamp rate says.
 */
export type ReadingKind = 'as-written' | 'same-labels' | 'stretched' | 'squeezed' | 'stamped';

export interface Reading {
  readonly kind: ReadingKind;
  /** Since the midnight of the reference's labels. */
  readonly ticks: number;
}

/** What a clip's number may mean; the first is what its own metadata say. A clip that counts like the reference has one. */
export function readingsOf(clip: TimedClip, reference: Rate): readonly [Reading, ...Reading[]] {
  const asWritten = { kind: 'as-written', ticks: clip.ticks } as const;
  if (clip.unit === 'samples') return soundReadings(clip, asWritten, reference);
  if (clip.rate === null || clip.count === null || countsAlike(clip.rate, reference)) return [asWritten];
  return [{ kind: 'same-labels', ticks: ticksOfLabel(clip.count, clip.rate, reference) }, asWritten];
}

function soundReadings(clip: TimedClip, asWritten: Reading, reference: Rate): readonly [Reading, ...Reading[]] {
  const scaled: Reading = runsBehind(reference)
    ? { kind: 'stretched', ticks: scaleTicks(clip.ticks, { numerator: 1001, denominator: 1000 }) }
    : { kind: 'squeezed', ticks: scaleTicks(clip.ticks, { numerator: 1000, denominator: 1001 }) };
  if (clip.ticksAtStampRate !== null) return [{ kind: 'stamped', ticks: clip.ticksAtStampRate }, asWritten, scaled];
  const isOther = clip.rate !== null && runsBehind(clip.rate) !== runsBehind(reference);
  return isOther ? [scaled, asWritten] : [asWritten, scaled];
}

/** Whether labels of the rate fall behind the clock on the wall: those over 1001 that drop none. */
function runsBehind(rate: Rate): boolean {
  return rate.denominator === 1001 && rate.drop === 0;
}

/** Where the reference has the label that this rate has at a count; frames of the label in proportion. */
function ticksOfLabel(count: number, rate: Rate, reference: Rate): number {
  const { frames, ...clock } = labelOfCount(count, rate);
  const second = ticksAtUnit(countOfLabel({ ...clock, frames: 0 }, reference), reference);
  const secondTicks = (TICKS_PER_SECOND * reference.base * reference.denominator) / reference.numerator;
  return second + Math.round((frames * secondTicks) / rate.base);
}

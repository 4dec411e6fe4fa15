import { countAtSample, samplesAt } from './audio-samples.ts';
import { addExactly, demandAtLeast, multiplyExactly, toSafeNumber } from './exact-integers.ts';
import { printLabel } from './print-label.ts';
import type { Rate } from './rate.ts';
import { floorOf, type Rational, rational, subtractRationals } from './rational.ts';

/** The label of a sound file's first sample. `count` is not reduced to a day, `label` is. */
export interface LabelledSample {
  readonly label: string;
  readonly count: number;
  readonly remainderInSamples: Rational;
}

/**
 * The label that a broadcast wave's time reference (EBU Tech 3285: samples since midnight, at the file's own sample rate)
 * means at a rate. The chunk holds no rate: whoever supplies it must know whether it was read or assumed.
 */
export function labelOfTimeReference(timeReference: number, sampleRate: number, rate: Rate): LabelledSample {
  demandAtLeast(timeReference, 0, 'time reference');
  const found = countAtSample(timeReference, sampleRate, rate);
  return { label: printLabel(found.count, rate), ...found };
}

/** The last whole sample at or before a count's first instant, and the part of a sample (below 1) from there to it. */
export function timeReferenceOf(
  count: number,
  rate: Rate,
  sampleRate: number,
): { readonly timeReference: number; readonly remainderInSamples: Rational } {
  demandAtLeast(count, 0, 'frame count');
  const exact = samplesAt(count, rate, sampleRate);
  const timeReference = floorOf(exact);
  return { timeReference, remainderInSamples: subtractRationals(exact, rational(timeReference)) };
}

/** One number from the two 32-bit halves that `bext` and iXML store. Throws NUMBER_TOO_LARGE past 2^53 samples. */
export function joinTimeReference(halves: { readonly high: number; readonly low: number }): number {
  for (const half of ['high', 'low'] as const) demandAtLeast(halves[half], 0, `${half} half of the time reference`);
  return toSafeNumber(addExactly(multiplyExactly(halves.high, 2 ** 32), halves.low));
}

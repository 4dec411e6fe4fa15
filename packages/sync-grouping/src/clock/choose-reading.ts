import { lowerMedian, sampleEvenly } from '../median.ts';
import type { TimedClip } from '../reading/timed-clip.ts';
import { TICKS_PER_SECOND } from '../ticks.ts';
import type { Reading, ReadingKind } from './clip-readings.ts';
import { misfitOf, type SpanIndex } from './span-index.ts';

/** A clip of one recorder, with what its number may mean. */
export interface OpenClip {
  readonly clip: TimedClip;
  readonly readings: readonly [Reading, ...Reading[]];
}

export interface ChosenReading extends Reading {
  /** True when the pictures decided against the clip's own metadata. */
  readonly isFitted: boolean;
}

/** What the clips are held against: the pictures of their chain, and what an ordinary start and stop may be off, together. */
export interface Yardstick {
  readonly pictures: SpanIndex;
  readonly offsetTicks: number;
  readonly usualMisfit: number;
}

const SAMPLE = 200;
/** A single clip decides against its recorder's others only when both its ends are within about a second of a picture's. */
const PLAIN_FIT = 2 * TICKS_PER_SECOND;

/**
 * The reading of each clip: what its metadata say, unless another way of counting fits the pictures three times as well and
 * by more than an ordinary start and stop. The recorder's clips decide together, then a clip may stand out on its own.
 * A clip that runs long before and after a picture fits equally in any way, and so keeps what it says.
 */
export function chooseReadings(clips: readonly OpenClip[], yardstick: Yardstick): readonly ChosenReading[] {
  const together = decideTogether(clips, yardstick);
  return clips.map(({ clip, readings }) => {
    const [written] = readings;
    const usual = readings.find((reading) => reading.kind === together) ?? written;
    const rated = readings.map((reading) => ({ reading, misfit: misfitAs(clip, reading, yardstick) }));
    const best = rated.reduce((least, next) => (next.misfit < least.misfit ? next : least));
    const standsOut =
      best.misfit <= PLAIN_FIT && isPlainlyBetter(best.misfit, misfitAs(clip, usual, yardstick), yardstick);
    const chosen = standsOut ? best.reading : usual;
    return { ...chosen, isFitted: chosen.kind !== written.kind };
  });
}

function decideTogether(clips: readonly OpenClip[], yardstick: Yardstick): ReadingKind | undefined {
  const sample = sampleEvenly(clips, SAMPLE);
  const written = sample[0]?.readings[0].kind;
  const kinds = sample[0]?.readings.map((reading) => reading.kind) ?? [];
  const rated = kinds.map((kind) => ({
    kind,
    misfit: lowerMedian(sample.map((clip) => misfitOfKind(clip, kind, yardstick))),
  }));
  const usual = rated.find((one) => one.kind === written);
  if (usual === undefined) return written;
  const best = rated.reduce((least, next) => (next.misfit < least.misfit ? next : least));
  return isPlainlyBetter(best.misfit, usual.misfit, yardstick) ? best.kind : written;
}

function misfitOfKind({ clip, readings }: OpenClip, kind: ReadingKind, yardstick: Yardstick): number {
  const reading = readings.find((one) => one.kind === kind) ?? readings[0];
  return misfitAs(clip, reading, yardstick);
}

function misfitAs(clip: TimedClip, reading: Reading, { pictures, offsetTicks }: Yardstick): number {
  const start = reading.ticks + offsetTicks;
  return misfitOf({ start, end: start + clip.lengthTicks }, pictures);
}

function isPlainlyBetter(misfit: number, than: number, { usualMisfit }: Yardstick): boolean {
  return misfit * 3 <= than && than - misfit > usualMisfit;
}

import { nearestRate, rateFrom, rational } from '@quayside/timecode';
import type { Ratio } from '@quayside/shoot';

/** So many samples in a row that last equally long: one entry of a file's time table (`stts`). */
export interface SampleRun {
  readonly count: number;
  readonly ticks: number;
}

/** How the pictures of a track follow each other. */
export interface Pace {
  readonly rate: Ratio | null;
  readonly isVariable: boolean;
  /** Pictures that stay as long as several, in a track that is else steady: the ones between were lost. Null when there are none. */
  readonly gaps: Gaps | null;
}

export interface Gaps {
  readonly count: number;
  readonly missingPictures: number;
  /** The number of the first picture that stays too long, from 0. */
  readonly firstAt: number;
}

/** A clock too coarse for its rate makes neighbours differ by one tick; below this many ticks a tick is no rounding. */
const ROUNDING_FROM_TICKS = 10;
/** A track is steady when so many of its pictures last the same, gaps or not. */
const STEADY_SHARE = 0.9;
/** So few pictures may last some odd time in a steady track: where sound and picture begin apart, the first one does. */
const UNEVEN_SHARE = 0.01;

/** All samples of the runs. */
export function countSamples(runs: readonly SampleRun[]): number {
  return runs.reduce((sum, { count }) => sum + count, 0);
}

/** How long the runs last together. */
export function sumTicks(runs: readonly SampleRun[]): number {
  return runs.reduce((sum, { count, ticks }) => sum + count * ticks, 0);
}

/** The exact rate of a track from its time table, and whether it is steady. What the last picture lasts is not counted: writers guess it. */
export function paceOf(runs: readonly SampleRun[], timescale: number): Pace {
  const counted = withoutLastSample(runs);
  const usualTicks = findUsualTicks(counted);
  if (usualTicks === 0 || timescale === 0) return { rate: null, isVariable: false, gaps: null };
  const isUsual = (ticks: number): boolean =>
    Math.abs(ticks - usualTicks) <= (usualTicks >= ROUNDING_FROM_TICKS ? 1 : 0);
  const steady = counted.filter(({ ticks }) => isUsual(ticks));
  const others = counted.filter(({ ticks }) => !isUsual(ticks));
  const rate = rateOf(steady, timescale);
  if (others.length === 0) return { rate, isVariable: false, gaps: null };
  const isGap = ({ ticks }: SampleRun): boolean => isWholeMultiple(ticks / usualTicks);
  const total = countSamples(counted);
  const uneven = countSamples(others.filter((run) => !isGap(run)));
  const isVariable = countSamples(steady) < STEADY_SHARE * total || uneven > Math.max(1, UNEVEN_SHARE * total);
  return { rate, isVariable, gaps: isVariable ? null : gapsIn(others.filter(isGap), counted, usualTicks) };
}

function isWholeMultiple(times: number): boolean {
  return times > 1.5 && Math.abs(times - Math.round(times)) < 0.1;
}

function withoutLastSample(runs: readonly SampleRun[]): readonly SampleRun[] {
  const last = runs.at(-1);
  if (last === undefined || runs.length === 1) return runs;
  const before = runs.slice(0, -1);
  return last.count > 1 ? [...before, { ...last, count: last.count - 1 }] : before;
}

/** What most samples last; 0 when there are none. */
function findUsualTicks(runs: readonly SampleRun[]): number {
  const samples = new Map<number, number>();
  for (const { count, ticks } of runs) samples.set(ticks, (samples.get(ticks) ?? 0) + count);
  let usual = { ticks: 0, count: 0 };
  for (const [ticks, count] of samples) if (count > usual.count) usual = { ticks, count };
  return usual.ticks;
}

function rateOf(steady: readonly SampleRun[], timescale: number): Ratio | null {
  const ticks = sumTicks(steady);
  if (ticks === 0) return null;
  const exact = rational(BigInt(timescale) * BigInt(countSamples(steady)), BigInt(ticks));
  if (rateFrom(exact).ok) return exact;
  const near = nearestRate(exact);
  return near.ok ? { numerator: near.rate.numerator, denominator: near.rate.denominator } : exact;
}

function gapsIn(longRuns: readonly SampleRun[], runs: readonly SampleRun[], usualTicks: number): Gaps | null {
  const [first] = longRuns;
  if (first === undefined) return null;
  return {
    count: countSamples(longRuns),
    missingPictures: longRuns.reduce((sum, run) => sum + run.count * (Math.round(run.ticks / usualTicks) - 1), 0),
    firstAt: countSamples(runs.slice(0, runs.indexOf(first))),
  };
}

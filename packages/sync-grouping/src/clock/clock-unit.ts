import type { RecorderRole } from '@quayside/shoot';
import { listBy } from '../in-order.ts';
import { sampleEvenly } from '../median.ts';
import type { TimedClip } from '../reading/timed-clip.ts';
import { joinSpans } from '../takes/join-spans.ts';
import { TICKS_PER_SECOND } from '../ticks.ts';
import type { ClockDay } from './clock-days.ts';
import type { PlacedClip } from './placed-clip.ts';
import { indexSpans, misfitOf, overlapShareOf, type SpanIndex } from './span-index.ts';

/** One recorder's clips in one run of its clock, in the order of recording: what is in order or astray as a whole. */
export interface ClockUnit {
  readonly recorder: string;
  readonly role: RecorderRole;
  /** Chain and midnights of its day. */
  readonly day: string;
  readonly chain: number;
  readonly clips: readonly PlacedClip[];
  /** The middle of its dates. */
  readonly recordedMs: number;
}

const SAMPLE = 60;

/** The runs of all days as units, with their clips as placed so far. */
export function listUnits(days: readonly ClockDay[], placed: readonly PlacedClip[]): readonly ClockUnit[] {
  const places = new Map<TimedClip, PlacedClip>();
  for (const one of placed) places.set(one.timed, one);
  return days.flatMap((day) =>
    day.runs.flatMap((run) => {
      const clips = run.clips.map((clip) => places.get(clip)).filter((one) => one !== undefined);
      const [first, middle] = [clips[0], clips[clips.length >> 1]];
      if (first === undefined || middle === undefined) return [];
      const { recorder, role } = first.timed.clip;
      const recordedMs = middle.timed.recordedAt.ms;
      return [{ recorder, role, day: `${day.chain} ${day.midnights}`, chain: day.chain, clips, recordedMs }];
    }),
  );
}

/** Indexes of the spans of units, by chain and then by recorder. */
export type Companions = ReadonlyMap<number, ReadonlyMap<string, SpanIndex>>;

export function indexCompanions(units: readonly ClockUnit[]): Companions {
  return new Map(
    [...listBy(units, (unit) => unit.chain)].map(([chain, ofChain]) => [
      chain,
      new Map(
        [...listBy(ofChain, (unit) => unit.recorder)].map(([recorder, own]) => [
          recorder,
          indexSpans(joinSpans(own.flatMap((unit) => unit.clips))),
        ]),
      ),
    ]),
  );
}

/** The share of a recorder's clips that ran together with a clip of another recorder for at least half of the shorter. */
export function companyOf(clips: readonly PlacedClip[], recorder: string, companions: Companions): number {
  const sample = sampleEvenly(clips, SAMPLE);
  const accompanied = sample.filter((clip) => {
    for (const [other, index] of companions.get(clip.chain) ?? []) {
      if (other !== recorder && overlapShareOf(clip, index) >= 0.5) return true;
    }
    return false;
  });
  return accompanied.length / Math.max(1, sample.length);
}

/** Whether hardly any of a recorder's spans, of three or more, begins and ends within about a second of another recorder's. */
export function neverMeetsEnds(unit: ClockUnit, companions: Companions): boolean {
  const sample = sampleEvenly(joinSpans(unit.clips), SAMPLE);
  if (sample.length < 3) return false;
  const met = sample.filter((span) => {
    for (const [other, index] of companions.get(unit.chain) ?? []) {
      if (other !== unit.recorder && misfitOf(span, index) <= 2 * TICKS_PER_SECOND) return true;
    }
    return false;
  });
  return met.length < 0.3 * sample.length;
}

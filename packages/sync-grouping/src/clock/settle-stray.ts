import { listBy } from '../in-order.ts';
import { printDecimal } from '@quayside/timecode';
import type { TimedClip } from '../reading/timed-clip.ts';
import { secondsOfTicks, TICKS_PER_SECOND } from '../ticks.ts';
import { type ClockUnit, companyOf, type Companions } from './clock-unit.ts';
import { joinSpans } from '../takes/join-spans.ts';
import { beginsNearZero, standsStillBetween } from './own-zero.ts';
import type { PlacedClip } from './placed-clip.ts';
import { findStartsByFileTimes } from './shift-by-file-times.ts';
import { findShiftByTakes } from './shift-by-takes.ts';
import type { StrayClock, StrayKind } from './stray-clock.ts';

/** A recorder's clips that may have gone astray together, in the order of recording. */
export interface Candidate {
  readonly recorder: string;
  readonly clips: readonly TimedClip[];
  /** Null when no clock ran in the recorder, so that its timecode puts its clips nowhere. */
  readonly unit: ClockUnit | null;
}

const MOST_CHAINS = 5;
/** Less than this between dates is the calendars' difference: the timecode is in order, and its recorder ran alone. */
const TELLING_SHIFT = 60 * TICKS_PER_SECOND;
const CLOCKLESS_CHAIN = -1;
const CLOCKLESS_PERIOD_MS = 100 * 86_400_000;

/**
 * Where a candidate belongs among the recorders that are in order and ran near it: by the pattern of takes where its clock
 * ran, else by the dates of its files. Null when it was in company all along and
 * no shift fits it better, and when its dates agree with its timecode.
 */
export function settleStray(
  candidate: Candidate,
  near: readonly ClockUnit[],
  companions: Companions,
): { readonly placed: readonly PlacedClip[]; readonly stray: StrayClock } | null {
  const kind = kindOf(candidate, near);
  const clipIds = candidate.clips.map((clip) => clip.clip.id);
  const stray = { recorder: candidate.recorder, kind, clipIds };
  const byTakes = kind === 'while-recording' ? null : settleByTakes(candidate, near);
  if (byTakes !== null)
    return { placed: byTakes.placed, stray: { ...stray, settledBy: 'takes', shiftTicks: byTakes.shift } };
  if (candidate.unit !== null && companyOf(candidate.unit.clips, candidate.recorder, companions) >= 0.5) return null;
  const [base] = near.toSorted((left, right) => right.clips.length - left.clips.length);
  const ownStarts = candidate.unit?.clips.map((clip) => clip.start) ?? null;
  const found = base === undefined ? null : findStartsByFileTimes({ ...candidate, ownStarts }, base, companions);
  if (base === undefined || found === null) {
    const placed = candidate.unit === null ? placeByDatesAlone(candidate.clips) : [];
    return { placed, stray: { ...stray, settledBy: null, shiftTicks: null } };
  }
  const { starts, shiftTicks } = found;
  if (kind === 'offset' && shiftTicks !== null && Math.abs(shiftTicks) < TELLING_SHIFT) return null;
  const placed = candidate.clips.map((timed, at) => {
    const start = starts[at] ?? 0;
    return placeWeakly(timed, { start, chain: base.chain, isShifted: shiftTicks !== null });
  });
  return { placed, stray: { ...stray, settledBy: 'file-times', shiftTicks } };
}

function kindOf({ clips, unit }: Candidate, near: readonly ClockUnit[]): StrayKind {
  if (unit === null) return 'from-zero';
  if (standsStillBetween(clips)) return 'while-recording';
  const othersBeganAway = near.some((other) => !beginsNearZero(other.clips.map((clip) => clip.timed)));
  return beginsNearZero(clips) && othersBeganAway ? 'from-zero' : 'offset';
}

function settleByTakes(
  { clips, unit }: Candidate,
  near: readonly ClockUnit[],
): { readonly placed: readonly PlacedClip[]; readonly shift: number } | null {
  if (unit === null) return null;
  const chains = [...listBy(near, (other) => other.chain).values()].slice(0, MOST_CHAINS);
  const found = chains.flatMap((others) => {
    const [fullest] = others.toSorted((left, right) => right.clips.length - left.clips.length);
    const shift = fullest === undefined ? null : findShiftByTakes(unit.clips, joinSpans(fullest.clips));
    return fullest === undefined || shift === null ? [] : [{ chain: fullest.chain, ...shift }];
  });
  const [best] = found.toSorted((left, right) => right.share - left.share);
  if (best === undefined || (best.chain === unit.chain && Math.abs(best.ticks) <= TICKS_PER_SECOND)) return null;
  const placed = clips.map((timed, at) => {
    const start = (unit.clips[at]?.start ?? 0) + best.ticks;
    return { ...placeWeakly(timed, { start, chain: best.chain, isShifted: true }), restsOn: explainTakes(best.ticks) };
  });
  return { placed, shift: best.ticks };
}

/** On a time of their own, where clips of several such recorders still meet. A hundred days of ticks are exact. */
function placeByDatesAlone(clips: readonly TimedClip[]): readonly PlacedClip[] {
  return clips.map((timed) => {
    const start = (timed.recordedAt.ms % CLOCKLESS_PERIOD_MS) * (TICKS_PER_SECOND / 1000);
    return placeWeakly(timed, { start, chain: CLOCKLESS_CHAIN, isShifted: false });
  });
}

function placeWeakly(
  timed: TimedClip,
  place: { readonly start: number; readonly chain: number; readonly isShifted: boolean },
): PlacedClip {
  return {
    timed,
    chain: place.chain,
    start: place.start,
    end: place.start + timed.lengthTicks,
    placedBy: place.isShifted ? 'shifted' : 'file-times',
    confidence: 'weak',
    restsOn: place.isShifted
      ? "Its own timecode, moved by the difference between its files' dates and the others': good to a few seconds at best."
      : "The date of its file alone, as no clock ran in the recorder that the others' timecode could be held against: good to a few seconds at best.",
  };
}

function explainTakes(ticks: number): string {
  const seconds = printDecimal(secondsOfTicks(Math.abs(ticks)), 2);
  return `Its own timecode, moved ${ticks < 0 ? 'back' : 'on'} by ${seconds} s, where its clips begin and end with the takes: good to a few frames.`;
}

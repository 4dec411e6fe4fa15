import { lowerMedian, sampleEvenly, spreadOf } from '../median.ts';
import type { TimedClip } from '../reading/timed-clip.ts';
import { TICKS_PER_SECOND } from '../ticks.ts';
import { type ClockUnit, companyOf, type Companions } from './clock-unit.ts';
import type { PlacedClip } from './placed-clip.ts';
import type { SpanIndex } from './span-index.ts';
import { firstIndexWhere } from '../in-order.ts';

/** Starts that the dates of the files suggest, one for each clip. */
export interface FileTimeStarts {
  readonly starts: readonly number[];
  /** By how much all of them differ from the clips' own timecode, when that is one amount. */
  readonly shiftTicks: number | null;
}

const TICKS_PER_MS = TICKS_PER_SECOND / 1000;
/** Dates are whole seconds, some even ones, and each calendar is a little off. */
const CALENDAR_TICKS = 10 * TICKS_PER_SECOND;
const STEADY_TICKS = 2 * TICKS_PER_SECOND;
const SAMPLE = 60;
const LEAST_SHARE = 0.6;

/**
 * Where the dates of a recorder's files put its clips on the time of a recorder that is in order, or null when less than
 * 60 % of them would then meet a take. A steady difference to the takes' starts is taken for the calendar's error.
 */
export function findStartsByFileTimes(
  stray: {
    readonly recorder: string;
    readonly clips: readonly TimedClip[];
    readonly ownStarts: readonly number[] | null;
  },
  base: ClockUnit,
  companions: Companions,
): FileTimeStarts | null {
  const epochMs = base.recordedMs;
  const zero = lowerMedian(
    sampleEvenly(base.clips, SAMPLE).map((clip) => clip.start - (clip.timed.recordedAt.ms - epochMs) * TICKS_PER_MS),
  );
  const byDate = stray.clips.map((clip) => zero + (clip.recordedAt.ms - epochMs) * TICKS_PER_MS);
  const shifts = stray.ownStarts?.map((own, at) => (byDate[at] ?? own) - own) ?? [];
  const isSteady = shifts.length > 0 && spreadOf(shifts) <= STEADY_TICKS;
  const shift = isSteady ? lowerMedian(shifts) : null;
  const starts = shift === null ? byDate : (stray.ownStarts ?? []).map((own) => own + shift);
  const index = companions.get(base.chain)?.get(base.recorder);
  const calendar = index === undefined ? 0 : findCalendarError(starts, index);
  const settled = starts.map((start) => start + calendar);
  const placed = stray.clips.map((timed, at) => placeAt(timed, settled[at] ?? 0, base.chain));
  if (companyOf(placed, stray.recorder, companions) < LEAST_SHARE) return null;
  return { starts: settled, shiftTicks: shift === null ? null : shift + calendar };
}

function findCalendarError(starts: readonly number[], { byStart }: SpanIndex): number {
  const errors = sampleEvenly(starts, SAMPLE).map((start) => {
    const at = firstIndexWhere(byStart, (span) => span.start >= start);
    const [before, after] = [byStart[at - 1]?.start ?? -Infinity, byStart[at]?.start ?? Infinity];
    return start - before <= after - start ? before - start : after - start;
  });
  const error = lowerMedian(errors);
  return Math.abs(error) <= CALENDAR_TICKS && spreadOf(errors) <= STEADY_TICKS ? error : 0;
}

function placeAt(timed: TimedClip, start: number, chain: number): PlacedClip {
  return {
    timed,
    chain,
    start,
    end: start + timed.lengthTicks,
    placedBy: 'file-times',
    confidence: 'weak',
    restsOn: '',
  };
}

import type { GroupingPolicy } from '../grouping-policy.ts';
import { compareText, firstIndexWhere } from '../in-order.ts';
import { sampleEvenly } from '../median.ts';
import type { ClockRun } from './clock-runs.ts';

/** One time round of the labels that recorders shared: runs of several recorders that counted from one zero. */
export interface ClockDay {
  /** Days that follow each other past midnight share a chain; clips of two chains never meet. */
  readonly chain: number;
  /** How often midnight was passed since the chain began. */
  readonly midnights: number;
  readonly zeroMs: number;
  readonly runs: readonly ClockRun[];
}

/** Dates of one clock agree within this, with what calendars drift and the whole seconds that dates are rounded to. */
const SAME_ZERO_MS = 10 * 60_000;
const DAY_MS = 86_400_000;
/** A label day is up to 86.4 s longer than a day, and calendars are set by hand. */
const MIDNIGHT_TOLERANCE_MS = 3_600_000;
/** No zone is further than 14 hours from UTC. */
const ZONE_MS = 14.5 * 3_600_000;
/** A calendar that is off by this much is wrong; by less, it may well be another day. */
const WRONG_CALENDAR_MS = 2 * DAY_MS;
const CHAIN_LENGTH = 100;
const MOST_RUNS_COMPARED = 50;

/**
 * Brings the runs of all recorders together into days. Calendars disagree between recorders (a zone, a wrong date), so a
 * recorder's difference that lets its runs meet the others' is sought first. Recorders must come with the most telling first.
 */
export function findClockDays(
  recorders: readonly (readonly ClockRun[])[],
  policy: GroupingPolicy,
): readonly ClockDay[] {
  const nightMs = policy.nightHours * 3_600_000;
  let days: { zeroMs: number; runs: ClockRun[] }[] = [];
  for (const runs of recorders) {
    const differenceMs = findCalendarDifference(runs, days, nightMs);
    const added: { zeroMs: number; runs: ClockRun[] }[] = [];
    for (const run of runs) {
      const zeroMs = run.zeroMs - differenceMs;
      const near = nearestDay(days, zeroMs);
      if (near !== undefined && Math.abs(near.zeroMs - zeroMs) < nightMs) near.runs.push(run);
      else added.push({ zeroMs, runs: [run] });
    }
    days = [...days, ...added].toSorted((left, right) => left.zeroMs - right.zeroMs);
  }
  return chainDays(days);
}

/** Runs a recorder's calendar against the days that are known: the difference under which most of its runs meet one. */
function findCalendarDifference(
  runs: readonly ClockRun[],
  days: readonly { readonly zeroMs: number; readonly runs: readonly ClockRun[] }[],
  nightMs: number,
): number {
  if (days.length === 0) return 0;
  const ownRuns = sampleEvenly(runs, MOST_RUNS_COMPARED);
  const differences = ownRuns.flatMap((run) =>
    sampleEvenly(days, MOST_RUNS_COMPARED).map((day) => run.zeroMs - day.zeroMs),
  );
  const isNear = (difference: number): boolean => Math.abs(difference) <= nightMs;
  const mayBeZoned = isUncertain(runs) || days.some((day) => isUncertain(day.runs));
  const isZone = (difference: number): boolean => mayBeZoned && !isNear(difference) && Math.abs(difference) <= ZONE_MS;
  for (const isThinkable of [isNear, isZone, isWrong]) {
    const thinkable = differences.filter(isThinkable);
    if (thinkable.length === 0) continue;
    const rated = thinkable.map((difference) => ({ difference, met: countMet(ownRuns, days, difference) }));
    return rated.reduce((best, next) => (isBetter(next, best) ? next : best)).difference;
  }
  return 0;
}

function isWrong(difference: number): boolean {
  return Math.abs(difference) >= WRONG_CALENDAR_MS;
}

function isUncertain(runs: readonly ClockRun[]): boolean {
  return runs.some((run) => run.clips.some((clip) => !clip.recordedAt.isCertain));
}

function countMet(runs: readonly ClockRun[], days: readonly { readonly zeroMs: number }[], difference: number): number {
  return runs.filter((run) => {
    const day = nearestDay(days, run.zeroMs - difference);
    return day !== undefined && Math.abs(day.zeroMs - run.zeroMs + difference) <= SAME_ZERO_MS;
  }).length;
}

function isBetter(
  next: { readonly difference: number; readonly met: number },
  best: { readonly difference: number; readonly met: number },
): boolean {
  if (next.met !== best.met) return next.met > best.met;
  const sizes = Math.abs(next.difference) - Math.abs(best.difference);
  return sizes < 0 || (sizes === 0 && next.difference < best.difference);
}

function nearestDay<Day extends { readonly zeroMs: number }>(days: readonly Day[], zeroMs: number): Day | undefined {
  const index = firstIndexWhere(days, (day) => day.zeroMs >= zeroMs);
  const [before, after] = [days[index - 1], days[index]];
  if (before === undefined || after === undefined) return before ?? after;
  return zeroMs - before.zeroMs <= after.zeroMs - zeroMs ? before : after;
}

/** Each day follows at most one other, the one whose labels ran out when its own began. */
function chainDays(
  days: readonly { readonly zeroMs: number; readonly runs: readonly ClockRun[] }[],
): readonly ClockDay[] {
  const chained: ClockDay[] = [];
  const followed = new Set<ClockDay>();
  let chains = 0;
  for (const day of days) {
    const before = nearestDay(chained, day.zeroMs - DAY_MS);
    const follows =
      before !== undefined &&
      Math.abs(day.zeroMs - before.zeroMs - DAY_MS) <= MIDNIGHT_TOLERANCE_MS &&
      before.midnights < CHAIN_LENGTH &&
      !followed.has(before);
    if (follows) followed.add(before);
    chained.push(
      follows
        ? { ...day, chain: before.chain, midnights: before.midnights + 1 }
        : { ...day, chain: chains++, midnights: 0 },
    );
  }
  return chained;
}

/** The recorders in the order in which they are believed: cameras first, then by number of clips, then by name. */
export function orderRecorders<
  Entry extends { readonly recorder: string; readonly isCamera: boolean; readonly clipCount: number },
>(recorders: readonly Entry[]): readonly Entry[] {
  return recorders.toSorted(
    (left, right) =>
      Number(right.isCamera) - Number(left.isCamera) ||
      right.clipCount - left.clipCount ||
      compareText(left.recorder, right.recorder),
  );
}

import { compareText, listBy } from '../in-order.ts';
import type { TimedClip } from '../reading/timed-clip.ts';
import type { ClockDay } from './clock-days.ts';
import { compareByRecording } from './clock-runs.ts';
import {
  type ClockUnit,
  companyOf,
  type Companions,
  indexCompanions,
  listUnits,
  neverMeetsEnds,
} from './clock-unit.ts';
import { beginsNearZero, standsStillBetween } from './own-zero.ts';
import type { PlacedClip } from './placed-clip.ts';
import { settleStray, type Candidate } from './settle-stray.ts';
import type { StrayClock } from './stray-clock.ts';

/** All clips with their places, and the recorders whose timecode could not be taken at its word. */
export interface SettledClips {
  readonly placed: readonly PlacedClip[];
  readonly strays: readonly StrayClock[];
}

const VICINITY_MS = 24 * 3_600_000;
const IN_COMPANY = 0.5;
/** With more runs astray than this, nothing can be told from anything; they stay where their timecode puts them. */
const MOST_CANDIDATES = 500;

/**
 * Finds the recorders that run with nobody, or never begin and end with anybody, though others ran at the time; moves their
 * clips to where takes or the dates of the files put them. `clockless` are clips of recorders in which no clock ran.
 */
export function settleStrays(
  days: readonly ClockDay[],
  placed: readonly PlacedClip[],
  clockless: readonly TimedClip[],
): SettledClips {
  const units = listUnits(days, placed);
  const hasCameras = units.some((unit) => unit.role === 'camera');
  const isTelling = (unit: ClockUnit): boolean => !hasCameras || unit.role === 'camera';
  const companions = indexCompanions(units.filter(isTelling));
  const doubtful = new Set(
    units.filter((unit) => isAstray(unit, companions, isTelling(unit))).slice(0, MOST_CANDIDATES),
  );
  if (doubtful.size === 0 && clockless.length === 0) return { placed, strays: [] };
  let base = units.filter((unit) => isTelling(unit) && !doubtful.has(unit));
  let baseCompanions = indexCompanions(base);
  const settled = new Map(placed.map((one) => [one.timed.clip.id, one]));
  const strays: StrayClock[] = [];
  for (const candidate of listCandidates([...doubtful].toSorted(compareTrust), clockless)) {
    const near = base.filter((unit) => isNear(candidate, unit));
    if (near.length === 0 && candidate.unit !== null) {
      if (!isTelling(candidate.unit)) continue;
      base = [...base, candidate.unit];
      baseCompanions = indexCompanions(base);
      continue;
    }
    const outcome = settleStray(candidate, near, baseCompanions);
    for (const one of outcome?.placed ?? []) settled.set(one.timed.clip.id, one);
    if (outcome !== null) strays.push(outcome.stray);
  }
  return { placed: [...settled.values()], strays };
}

function isAstray(unit: ClockUnit, companions: Companions, isTelling: boolean): boolean {
  if (companyOf(unit.clips, unit.recorder, companions) < IN_COMPANY) return true;
  return isTelling && neverMeetsEnds(unit, companions);
}

/** Recorders with a clock first, then those that began away from zero, then the order of trust in `orderRecorders`. */
function compareTrust(left: ClockUnit, right: ClockUnit): number {
  return (
    Number(standsStillBetween(timedOf(left))) - Number(standsStillBetween(timedOf(right))) ||
    Number(beginsNearZero(timedOf(left))) - Number(beginsNearZero(timedOf(right))) ||
    Number(right.role === 'camera') - Number(left.role === 'camera') ||
    right.clips.length - left.clips.length ||
    compareText(left.recorder, right.recorder) ||
    compareText(left.day, right.day)
  );
}

function listCandidates(doubtful: readonly ClockUnit[], clockless: readonly TimedClip[]): readonly Candidate[] {
  const withoutClock = [...listBy(clockless, (clip) => clip.clip.recorder)].toSorted(([left], [right]) =>
    compareText(left, right),
  );
  return [
    ...doubtful.map((unit) => ({ recorder: unit.recorder, clips: timedOf(unit), unit })),
    ...withoutClock.map(([recorder, clips]) => ({ recorder, clips: clips.toSorted(compareByRecording), unit: null })),
  ];
}

/** A wrong calendar is no obstacle within the day that timecode has put both into. */
function isNear(candidate: Candidate, unit: ClockUnit): boolean {
  if (candidate.recorder === unit.recorder) return false;
  if (candidate.unit?.day === unit.day) return true;
  const first = candidate.clips[candidate.clips.length >> 1]?.recordedAt.ms ?? 0;
  return Math.abs(first - unit.recordedMs) <= VICINITY_MS;
}

function timedOf(unit: ClockUnit): readonly TimedClip[] {
  return unit.clips.map((one) => one.timed);
}

import type { Rate } from '@quayside/timecode';
import type { PlacedClip } from '../clock/placed-clip.ts';
import type { GroupMember } from '../sync-group.ts';
import { firstUnitFrom, lastUnitUpTo, nearestUnit, secondsOfTicks, ticksAtUnit } from '../ticks.ts';

/** The time of a group in ticks: whole frames of its rate. */
export interface GroupTime {
  readonly start: number;
  readonly end: number;
  readonly rate: Rate;
}

const PICTURE_SOUND_RATE = 48_000;

/** A clip as a member: the part of it that lies in the group, and where that part begins. */
export function describeMember(placed: PlacedClip, group: GroupTime, isShared: boolean): GroupMember {
  const { timed } = placed;
  const { unitRate } = timed;
  // The first unit that begins in the group, so that no offset is negative.
  const from = Math.min(timed.length, Math.max(0, firstUnitFrom(group.start - placed.start, unitRate)));
  const until = Math.min(timed.length, lastUnitUpTo(group.end - placed.start, unitRate));
  const offsetTicks = Math.max(0, placed.start + ticksAtUnit(from, unitRate) - group.start);
  const sampleRate = timed.unit === 'samples' ? unitRate.numerator : PICTURE_SOUND_RATE;
  const { numerator, denominator } = secondsOfTicks(offsetTicks);
  return {
    clipId: timed.clip.id,
    recorder: timed.clip.recorder,
    role: timed.clip.role,
    offset: { numerator, denominator },
    offsetInFrames: nearestUnit(offsetTicks, group.rate),
    offsetInSamples: nearestUnit(offsetTicks, { numerator: sampleRate, denominator: 1 }),
    sampleRate,
    range: { unit: timed.unit, rate: unitRate, from, length: Math.max(0, until - from) },
    isShared,
    placedBy: placed.placedBy,
    confidence: placed.confidence,
    restsOn: placed.restsOn,
  };
}

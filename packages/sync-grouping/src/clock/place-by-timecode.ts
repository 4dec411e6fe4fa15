import { printLabel, type Rate } from '@quayside/timecode';
import type { GroupingPolicy } from '../grouping-policy.ts';
import { listBy } from '../in-order.ts';
import type { TimedClip } from '../reading/timed-clip.ts';
import { joinSpans } from '../takes/join-spans.ts';
import { TICKS_PER_HOUR, ticksAtUnit, ticksPerUnit } from '../ticks.ts';
import { type ChosenReading, chooseReadings, type OpenClip } from './choose-reading.ts';
import { readingsOf } from './clip-readings.ts';
import type { ClockDay } from './clock-days.ts';
import type { PlacedClip } from './placed-clip.ts';
import { indexSpans } from './span-index.ts';

interface DatedClip extends OpenClip {
  readonly day: ClockDay;
  readonly runIndex: number;
}

/**
 * Places each clip by its own timecode. One that counts like the reference is taken as written; for any other, and for the
 * samples since midnight of a sound file, `chooseReadings` decides what its number means.
 */
export function placeByTimecode(
  days: readonly ClockDay[],
  reference: Rate | null,
  policy: GroupingPolicy,
): readonly PlacedClip[] {
  const dated = readDays(days, reference);
  const dayTicks = dayTicksOf(reference);
  const placed = dated
    .filter((one) => !isOpen(one))
    .map((one) => place(one, { ...one.readings[0], isFitted: false }, { reference, dayTicks }));
  const pictures = listBy(
    placed.filter((one) => one.timed.clip.role !== 'sound'),
    (one) => one.chain,
  );
  const indexes = new Map([...pictures].map(([chain, ones]) => [chain, indexSpans(joinSpans(ones))]));
  const usualMisfit = reference === null ? 0 : 2 * policy.followerFrames * ticksPerUnit(reference);
  for (const clips of listBy(dated.filter(isOpen), togetherKeyOf).values()) {
    const [first] = clips;
    if (first === undefined) continue;
    const { chain, midnights } = first.day;
    const yardstick = {
      pictures: indexes.get(chain) ?? indexSpans([]),
      offsetTicks: midnights * dayTicks,
      usualMisfit,
    };
    const chosen = chooseReadings(clips, yardstick);
    for (const [at, clip] of clips.entries()) {
      placed.push(place(clip, chosen[at] ?? { ...clip.readings[0], isFitted: false }, { reference, dayTicks }));
    }
  }
  return placed;
}

/** How long the reference's labels take from midnight to midnight. */
export function dayTicksOf(reference: Rate | null): number {
  return reference === null ? 24 * TICKS_PER_HOUR : ticksAtUnit(reference.labelsPerDay, reference);
}

function readDays(days: readonly ClockDay[], reference: Rate | null): readonly DatedClip[] {
  const dated: DatedClip[] = [];
  for (const day of days) {
    for (const [runIndex, run] of day.runs.entries()) {
      for (const clip of run.clips) {
        const readings: DatedClip['readings'] =
          reference === null ? [{ kind: 'as-written', ticks: clip.ticks }] : readingsOf(clip, reference);
        dated.push({ clip, day, readings, runIndex });
      }
    }
  }
  return dated;
}

function isOpen({ readings }: DatedClip): boolean {
  return readings.length > 1;
}

/** The clips that decide together on how they count: one recorder's at one rate, in one run of its clock. */
function togetherKeyOf({ clip, day, runIndex, readings }: DatedClip): string {
  return `${day.chain} ${day.midnights} ${runIndex} ${clip.rate?.name ?? ''} ${readings[0].kind}`;
}

function place(
  { clip, day }: DatedClip,
  reading: ChosenReading,
  shoot: { readonly reference: Rate | null; readonly dayTicks: number },
): PlacedClip {
  const start = day.midnights * shoot.dayTicks + reading.ticks;
  const isAsWritten = reading.kind === 'as-written' && !reading.isFitted;
  const isNamed = clip.rate !== null || shoot.reference === null;
  return {
    timed: clip,
    chain: day.chain,
    start,
    end: start + clip.lengthTicks,
    placedBy: reading.kind === 'as-written' ? 'timecode' : 'other-rate',
    confidence: isAsWritten && isNamed ? 'sure' : 'likely',
    restsOn: explain(clip, reading, shoot.reference),
  };
}

function explain(clip: TimedClip, reading: ChosenReading, reference: Rate | null): string {
  if (clip.unit === 'frames') return `Its own timecode ${labelOf(clip)}${explainPicture(reading, reference)}.`;
  const rate = reference?.name ?? '';
  const named =
    clip.rate === null ? 'it names no timecode rate' : `its metadata name a timecode rate of ${clip.rate.name}`;
  switch (reading.kind) {
    case 'stretched':
    case 'squeezed': {
      const factor = reading.kind === 'stretched' ? '1001/1000' : '1000/1001';
      const because = reading.isFitted ? 'only so does it begin and end with the pictures' : named;
      return `Its samples since midnight, times ${factor} as the pictures run at ${rate}: ${because}.`;
    }
    case 'stamped':
      return `Its samples since midnight, counted at the timestamp rate of its metadata instead of its sample rate.`;
    case 'as-written':
    case 'same-labels':
      return `Its samples since midnight, taken as real time; ${named}.`;
  }
}

function explainPicture(reading: ChosenReading, reference: Rate | null): string {
  const rate = reference?.name ?? '';
  if (reading.kind === 'same-labels') return `, held against the same labels at the shoot's ${rate}`;
  return reading.isFitted ? `, counted in real time from 00:00:00:00, which fits the pictures at ${rate} better` : '';
}

function labelOf({ count, rate }: TimedClip): string {
  return count === null || rate === null ? '' : `${printLabel(count, rate)} at ${rate.name}`;
}

import { demandWhole, modulo } from './exact-integers.ts';
import type { Rate } from './rate.ts';
import type { TimecodeFault } from './timecode-fault.ts';

/** The four numbers of a timecode label. Which labels exist depends on the rate. */
export interface Label {
  readonly hours: number;
  readonly minutes: number;
  readonly seconds: number;
  readonly frames: number;
}

/** Frames from 00:00:00:00 to a label that exists at this rate; `findLabelFault` says whether it does. */
export function countOfLabel(label: Label, rate: Rate): number {
  const minutes = 60 * label.hours + label.minutes;
  const labels = (60 * minutes + label.seconds) * rate.base + label.frames;
  return labels - rate.drop * (minutes - wholeParts(minutes, 10));
}

/** The label at a count, which may lie before midnight or beyond it: days are taken off or added. */
export function labelOfCount(count: number, rate: Rate): Label {
  const numbered = labelNumberAt(wrapCount(count, rate), rate);
  const seconds = wholeParts(numbered, rate.base);
  const minutes = wholeParts(seconds, 60);
  return {
    hours: wholeParts(minutes, 60),
    minutes: minutes % 60,
    seconds: seconds % 60,
    frames: numbered % rate.base,
  };
}

/** The count within its day: 0..labelsPerDay-1. */
export function wrapCount(count: number, rate: Rate): number {
  demandWhole(count, 'frame count');
  return modulo(count, rate.labelsPerDay);
}

/** The count with the skipped labels counted in, for a count within the day: what the label says, in frames of the base. */
export function labelNumberAt(count: number, rate: Rate): number {
  if (rate.drop === 0) return count;
  const perTenMinutes = 600 * rate.base - 9 * rate.drop;
  const perMinute = 60 * rate.base - rate.drop;
  const rest = count % perTenMinutes;
  // The first minute of ten skips nothing, so it is `drop` labels longer than the nine others.
  const minutesBegun = rest < rate.drop ? 0 : wholeParts(rest - rate.drop, perMinute);
  return count + 9 * rate.drop * wholeParts(count, perTenMinutes) + rate.drop * minutesBegun;
}

/** Why this label does not exist at this rate, or null when it does. */
export function findLabelFault(label: Label, rate: Rate): TimecodeFault | null {
  const limits = { hours: 24, minutes: 60, seconds: 60, frames: rate.base };
  for (const part of ['hours', 'minutes', 'seconds', 'frames'] as const) {
    const value = label[part];
    if (Number.isSafeInteger(value) && value >= 0 && value < limits[part]) continue;
    return {
      code: 'LABEL_OUT_OF_RANGE',
      sentence: `A label at ${rate.name} has ${part} from 0 to ${limits[part] - 1}, not ${value}: check the rate that it was written at.`,
    };
  }
  if (!isSkipped(label, rate)) return null;
  return {
    code: 'LABEL_DROPPED',
    sentence: `Frame ${label.frames} of second 0 does not exist in minute ${label.minutes} at ${rate.name}: drop-frame counting skips to frame ${rate.drop}, so check whether it was written non-drop.`,
  };
}

function isSkipped(label: Label, rate: Rate): boolean {
  return label.frames < rate.drop && label.seconds === 0 && label.minutes % 10 !== 0;
}

/** How often `size` fits, for numbers from 0; subtracting the remainder first keeps the division whole. */
function wholeParts(value: number, size: number): number {
  return (value - (value % size)) / size;
}

import { countOfLabel, labelOfCount, type Rate } from '@quayside/timecode';

/** A tick of the timecode axis: how far along the panel, from 0 to 1, and its label. */
export interface Tick {
  readonly share: number;
  readonly label: string;
}

const STEPS_IN_SECONDS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 21_600, 43_200];
const DAY_SECONDS = 86_400;

/**
 * The ticks of a stretch of timecode at round labels, as close as `most` steps over the whole of it allow. A label that drop frame skips stands where the
 * next one begins.
 */
export function axisTicks(
  stretch: { readonly count: number; readonly lengthInFrames: number; readonly rate: Rate },
  most: number,
): readonly Tick[] {
  const { count, lengthInFrames, rate } = stretch;
  const step = STEPS_IN_SECONDS.find((seconds) => lengthInFrames / (seconds * rate.base) <= most) ?? DAY_SECONDS;
  const { hours, minutes, seconds, frames } = labelOfCount(count, rate);
  const first = Math.ceil((3600 * hours + 60 * minutes + seconds + (frames > 0 ? 1 : 0)) / step) * step;
  const ticks: Tick[] = [];
  for (let at = first; ticks.length <= most; at += step) {
    const label = { hours: Math.floor(at / 3600) % 24, minutes: Math.floor(at / 60) % 60, seconds: at % 60, frames: 0 };
    const rounds = Math.floor(at / DAY_SECONDS);
    const ahead = countOfLabel(label, rate) + rounds * rate.labelsPerDay - count;
    if (ahead > lengthInFrames) break;
    ticks.push({ share: Math.max(0, ahead / lengthInFrames), label: printTick(label, step) });
  }
  return ticks;
}

function printTick(
  label: { readonly hours: number; readonly minutes: number; readonly seconds: number },
  step: number,
): string {
  const parts = step % 60 === 0 ? [label.hours, label.minutes] : [label.hours, label.minutes, label.seconds];
  return parts.map((part) => String(part).padStart(2, '0')).join(':');
}

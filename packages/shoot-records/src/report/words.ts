import type { RecorderRole, Severity } from '@quayside/shoot';
import { printDecimal, type Rational } from '@quayside/timecode';

export const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  critical: 'Critical',
  warning: 'Warning',
  info: 'Note',
};

export const ROLE_WORDS: Readonly<Record<RecorderRole, string>> = {
  camera: 'camera',
  program: 'program',
  sound: 'sound',
};

/** A count with its noun: `1 clip`, `3 clips`. */
export function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

/** A code as a title: `CLIP_CUT_SHORT` is `Clip cut short`. */
export function titleOfCode(code: string): string {
  const words = code.toLowerCase().replaceAll('_', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** A length of time by its two largest units: `1 h 12 min`, `4 min 30 s`, `2.5 s`. Rounded for reading. */
export function showSeconds(seconds: Rational): string {
  const exact = seconds.numerator / seconds.denominator;
  if (exact < 9.95) return `${printDecimal(seconds, 1).replace(/\.0$/, '')} s`;
  const whole = Math.round(exact);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return join(Math.floor(whole / 60), 'min', [whole % 60, 's']);
  const minutes = Math.round(whole / 60);
  return join(Math.floor(minutes / 60), 'h', [minutes % 60, 'min']);
}

function join(large: number, unit: string, [small, smallUnit]: readonly [number, string]): string {
  return small === 0 ? `${large} ${unit}` : `${large} ${unit} ${small} ${smallUnit}`;
}

/** A moment as people write it, to the second; it says that it is UTC. */
export function showInstant(instant: string): string {
  return `${instant.slice(0, 10)} ${instant.slice(11, 19)} UTC`;
}

/** Numbers as ranges: `1 to 3, 5`. */
export function showNumbers(numbers: readonly number[]): string {
  const ranges: [number, number][] = [];
  for (const number of numbers) {
    const last = ranges.at(-1);
    if (last !== undefined && last[1] + 1 === number) last[1] = number;
    else ranges.push([number, number]);
  }
  return ranges.map(([from, to]) => (from === to ? `${from}` : `${from} to ${to}`)).join(', ');
}

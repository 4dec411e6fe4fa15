import type { Clip, Ratio } from '@quayside/shoot';
import type { Rate } from '@quayside/timecode';
import type { RecordedAt } from './recorded-at.ts';

/** A clip whose timecode, rate and length could be read: what can be placed. */
export interface TimedClip {
  readonly clip: Clip;
  readonly recordedAt: RecordedAt;
  readonly unit: 'frames' | 'samples';
  /** Units per second. */
  readonly unitRate: Ratio;
  readonly length: number;
  readonly lengthTicks: number;
  /** The rate of its labels; null for a sound file that names none. */
  readonly rate: Rate | null;
  /** Frames since the label 00:00:00:00; null for a sound file, which counts samples. */
  readonly count: number | null;
  /** Real time since the label 00:00:00:00, as the file's own numbers say. */
  readonly ticks: number;
  /** For a sound file whose metadata names another clock for its samples since midnight: the same at that clock. */
  readonly ticksAtStampRate: number | null;
}

import type { TimedClip } from '../reading/timed-clip.ts';
import type { Confidence, PlacedBy } from '../sync-group.ts';

/** A clip on the time of the shoot: ticks since the first midnight of its chain's labels, at the reference's speed. */
export interface PlacedClip {
  readonly timed: TimedClip;
  readonly chain: number;
  readonly start: number;
  readonly end: number;
  readonly placedBy: PlacedBy;
  readonly confidence: Confidence;
  readonly restsOn: string;
}

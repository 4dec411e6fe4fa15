import type { Clip } from './clip.ts';

/** Frames at even distances: the middles of as many equal parts of the clip. Fewer when the clip has no more. */
export function spreadFrames(clip: Clip, count: number): readonly number[] {
  const frames = lengthInFrames(clip);
  const parts = Math.min(count, frames);
  return Array.from({ length: parts }, (_, part) => Math.floor(((2 * part + 1) * frames) / (2 * parts)));
}

function lengthInFrames({ facts: { picture, durationMs } }: Clip): number {
  if (picture === null) return 0;
  if (picture.frameCount !== null) return picture.frameCount;
  if (picture.rate === null || durationMs === null) return 0;
  return Math.floor((durationMs * picture.rate.numerator) / (1000 * picture.rate.denominator));
}

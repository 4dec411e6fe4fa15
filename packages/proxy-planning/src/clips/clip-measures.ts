import type { Clip } from '@quayside/shoot';

/** What rules ask of a clip, worked out once. Null: the clip does not tell. */
export interface ClipMeasures {
  readonly codec: string;
  /** Frames in a second. */
  readonly rate: number | null;
  readonly seconds: number | null;
  /** 10^6 bits in a second, of the whole file. */
  readonly megabits: number | null;
}

/** The measures of a clip that has a picture. */
export function measuresOf({ facts, sizeInBytes }: Clip): ClipMeasures | null {
  const { picture } = facts;
  if (picture === null) return null;
  const rate = picture.rate === null ? null : picture.rate.numerator / picture.rate.denominator;
  const counted = picture.frameCount === null || rate === null ? null : picture.frameCount / rate;
  const seconds = facts.durationMs === null ? counted : facts.durationMs / 1000;
  const megabits = seconds === null || seconds === 0 ? null : (sizeInBytes * 8) / seconds / 1_000_000;
  return { codec: picture.codec, rate, seconds, megabits };
}

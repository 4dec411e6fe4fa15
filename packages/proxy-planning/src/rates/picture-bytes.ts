import type { PictureSize } from '../policy/picture-size.ts';
import { DNXHR_SIZES, type DnxhrProfile } from './dnxhr-rates.ts';
import { PRORES_SIZES, type ProResProfile } from './prores-rates.ts';

/** The bytes of one frame of picture, and whether the publisher's table names this very size. */
export interface FrameBytes {
  readonly bytes: number;
  readonly isListed: boolean;
}

/**
 * The target of a ProRes frame. A size that the table does not name is taken from the listed one that is nearest in blocks of
 * 16 by 16 pixels, in proportion to these blocks: the targets of a block fall by a tenth as pictures grow.
 */
export function proresFrame(profile: ProResProfile, size: PictureSize): FrameBytes {
  const { listed, factor } = nearestListed(PRORES_SIZES, size);
  return { bytes: listed.kilobitsPerFrame[profile] * 125 * factor, isListed: factor === 1 };
}

/** A DNxHR frame, in the same way. */
export function dnxhrFrame(profile: DnxhrProfile, size: PictureSize): FrameBytes {
  const { listed, factor } = nearestListed(DNXHR_SIZES, size);
  return { bytes: listed.bytesPerFrame[profile] * factor, isListed: factor === 1 };
}

function nearestListed<Listed extends PictureSize>(
  table: readonly Listed[],
  size: PictureSize,
): { readonly listed: Listed; readonly factor: number } {
  const blocks = blocksOf(size);
  const distance = (one: Listed): number => Math.abs(Math.log(blocksOf(one) / blocks));
  const listed = table.reduce((best, one) => (distance(one) < distance(best) ? one : best));
  return { listed, factor: blocks / blocksOf(listed) };
}

function blocksOf({ width, height }: PictureSize): number {
  return Math.ceil(width / 16) * Math.ceil(height / 16);
}

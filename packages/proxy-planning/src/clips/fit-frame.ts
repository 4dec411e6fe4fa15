import type { Ratio } from '@quayside/shoot';
import { type PictureSize, turnedLike } from '../policy/picture-size.ts';

/** The frame of a proxy: stored pixels and their aspect. */
export interface ProxyFrame extends PictureSize {
  readonly pixelAspect: Ratio;
  /** Whether the picture's aspect is exactly that of the original; else one side is off by less than a step. */
  readonly isExactAspect: boolean;
}

export interface PictureToFit extends PictureSize {
  readonly pixelAspect: Ratio | null;
  readonly isInterlaced: boolean;
}

/** A size of exact aspect is preferred when it is no smaller than this share of what would fit. */
const EXACT_SHARE = 0.9;

/**
 * The largest frame that fits the box, up-scales nothing and keeps the picture's aspect. Both sides are even, the height of an
 * interlaced picture a multiple of four, so that each field is even too. Pixels keep their aspect: what an editor did to the
 * proxy, anamorphic ones included, holds for the original. The aspect is exact where an exact size nearly fills the box, else
 * rounded to the next step. Null when the picture is too small to have such a frame.
 */
export function fitFrame(picture: PictureToFit, box: PictureSize): ProxyFrame | null {
  const { width, height, isInterlaced } = picture;
  const step = isInterlaced ? 4 : 2;
  const turned = turnedLike(box, picture);
  const scale = Math.min(1, turned.width / width, turned.height / height);
  const pixelAspect = picture.pixelAspect ?? { numerator: 1, denominator: 1 };

  const exact = exactFrame(picture, { scale, step });
  if (exact !== null && exact.width >= EXACT_SHARE * scale * width) {
    return { ...exact, pixelAspect, isExactAspect: true };
  }
  const fittedWidth = downTo(width * scale, 2);
  const idealHeight = (fittedWidth * height) / width;
  const limit = Math.min(height, turned.height);
  const nearest = Math.round(idealHeight / step) * step;
  const fittedHeight = nearest > limit ? downTo(limit, step) : nearest;
  if (fittedWidth < 2 || fittedHeight < step) return null;
  const isExactAspect = fittedWidth * height === fittedHeight * width;
  return { width: fittedWidth, height: fittedHeight, pixelAspect, isExactAspect };
}

/** The largest frame of exactly the picture's aspect below a scale, or null. */
function exactFrame(
  { width, height }: PictureSize,
  { scale, step }: { readonly scale: number; readonly step: number },
): PictureSize | null {
  const divisor = greatestCommonDivisor(width, height);
  const [unitWidth, unitHeight] = [width / divisor, height / divisor];
  // The least multiple of the unit whose sides keep to their steps.
  const multiple = leastCommonMultiple(stepsOf(unitWidth, 2), stepsOf(unitHeight, step));
  const times = Math.floor((divisor * scale) / multiple + 1e-9) * multiple;
  return times === 0 ? null : { width: unitWidth * times, height: unitHeight * times };
}

/** By how much a side must be multiplied to be a multiple of the step. */
function stepsOf(side: number, step: number): number {
  return step / greatestCommonDivisor(side, step);
}

/** 1e-9: a scale such as 1920/3840*3840 may come out a hair below the whole number that it stands for. */
function downTo(value: number, step: number): number {
  return Math.floor(value / step + 1e-9) * step;
}

function greatestCommonDivisor(one: number, other: number): number {
  let [larger, smaller] = [one, other];
  while (smaller !== 0) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}

function leastCommonMultiple(one: number, other: number): number {
  return (one / greatestCommonDivisor(one, other)) * other;
}

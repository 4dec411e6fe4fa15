import { z } from 'zod';

/** A size of pictures in stored pixels, as text: `1920x1080`. */
export const PictureSizeText = z
  .string()
  .regex(/^[1-9]\d{0,4}x[1-9]\d{0,4}$/, { abort: true })
  .describe('A size of pictures in pixels, such as 1920x1080.');

export interface PictureSize {
  readonly width: number;
  readonly height: number;
}

/** The size that a text of `PictureSizeText` stands for. */
export function sizeOfText(text: string): PictureSize {
  const [width, height] = text.split('x').map(Number);
  return { width: width ?? 0, height: height ?? 0 };
}

export function textOfSize({ width, height }: PictureSize): string {
  return `${width}x${height}`;
}

/** The box turned the way the picture stands, so that a portrait picture is measured by the same box as a landscape one. */
export function turnedLike(box: PictureSize, picture: PictureSize): PictureSize {
  const isTurned = picture.width < picture.height !== box.width < box.height;
  return isTurned ? { width: box.height, height: box.width } : box;
}

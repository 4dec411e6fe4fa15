import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type PictureSize, turnedLike } from '../policy/picture-size.ts';
import { fitFrame } from './fit-frame.ts';

const HD = { width: 1920, height: 1080 };

function fit(width: number, height: number, isInterlaced = false): string | null {
  const frame = fitFrame({ width, height, pixelAspect: null, isInterlaced }, HD);
  return frame === null ? null : `${frame.width}x${frame.height}${frame.isExactAspect ? '' : ' rounded'}`;
}

it.each([
  // UHD, 8K, 6K 3:2, DCI 4K, scope, portrait, HD, SD, odd sizes.
  [3840, 2160, '1920x1080'],
  [7680, 4320, '1920x1080'],
  [6048, 4032, '1620x1080'],
  [4096, 2160, '1920x1012 rounded'],
  [4096, 1716, '1920x804 rounded'],
  [2160, 3840, '1080x1920'],
  [1920, 1080, '1920x1080'],
  [720, 576, '720x576'],
  [1921, 1081, '1918x1080 rounded'],
  [853, 480, '852x480 rounded'],
  [64, 36, '64x36'],
])('%i x %i fits into HD as %s', (width, height, expected) => {
  expect(fit(width, height)).toBe(expected);
});

it('keeps the aspect of pixels, so that a squeezed picture is squeezed in the same way', () => {
  const pixelAspect = { numerator: 2, denominator: 1 };
  const frame = fitFrame({ width: 3840, height: 2160, pixelAspect, isInterlaced: false }, HD);
  expect(frame).toEqual({ width: 1920, height: 1080, pixelAspect, isExactAspect: true });
});

it('gives an interlaced picture a height whose fields are even', () => {
  expect(fit(720, 486, true)).toBe('720x484 rounded');
  expect(fit(1920, 1080, true)).toBe('1920x1080');
});

it('finds no frame for a picture of a pixel', () => {
  expect(fit(1, 1)).toBeNull();
  expect(fit(1000, 1)).toBeNull();
});

const side = fc.integer({ min: 1, max: 9000 });
const even = fc.integer({ min: 32, max: 4000 }).map((half) => half * 2);
const size = (of: fc.Arbitrary<number>): fc.Arbitrary<PictureSize> => fc.record({ width: of, height: of });

it('never up-scales, never leaves the box, has even sides, and keeps the aspect to within a step', () => {
  fc.assert(
    fc.property(size(side), size(even), fc.boolean(), ({ width, height }, box, isInterlaced) => {
      const frame = fitFrame({ width, height, pixelAspect: null, isInterlaced }, box);
      if (frame === null) return;
      const turned = turnedLike(box, { width, height });
      const step = isInterlaced ? 4 : 2;
      expect(frame.width).toBeLessThanOrEqual(Math.min(width, turned.width));
      expect(frame.height).toBeLessThanOrEqual(Math.min(height, turned.height));
      expect([frame.width % 2, frame.height % step]).toEqual([0, 0]);
      expect(Math.abs((frame.width * height) / width - frame.height)).toBeLessThanOrEqual(step);
      expect(frame.width * height === frame.height * width).toBe(frame.isExactAspect);
    }),
    { numRuns: 2000 },
  );
});

import { describe, expect, it } from 'vitest';
import { PALETTE } from './palette.ts';

// WCAG 2.2: relative luminance and contrast ratio as defined there; 1.4.3 asks 4.5 for text, 1.4.11 asks 3 for shapes.

function coloursOf(block: string | undefined): ReadonlyMap<string, string> {
  return new Map(
    [...(block ?? '').matchAll(/--([a-z-]+): (#[0-9a-f]{3,6});/g)].map((found) => [found[1] ?? '', found[2] ?? '']),
  );
}

function luminanceOf(colour: string): number {
  const digits = colour.length === 4 ? colour.slice(1).replaceAll(/./g, '$&$&') : colour.slice(1);
  const [red, green, blue] = [0, 2, 4].map((at) => {
    const share = Number.parseInt(digits.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * (red ?? 0) + 0.7152 * (green ?? 0) + 0.0722 * (blue ?? 0);
}

function contrast(one: string, other: string): number {
  const [darker = 0, lighter = 0] = [luminanceOf(one), luminanceOf(other)].toSorted((left, right) => left - right);
  return (lighter + 0.05) / (darker + 0.05);
}

const [, light, dark] = PALETTE.toString().split(':root {');

describe.each([
  ['light', coloursOf(light)],
  ['dark', coloursOf(dark)],
])('the %s colours', (_name, colours) => {
  const colour = (name: string): string => colours.get(name) ?? '#000';

  it.each([
    ['ink', ['paper', 'band', 'camera', 'program', 'sound', 'warm']],
    ['quiet', ['paper', 'band']],
    ['accent', ['paper']],
    ['critical', ['paper', 'tag']],
    ['warning', ['paper', 'tag']],
    ['info', ['paper', 'tag']],
  ])('%s can be read as text on %s', (ink, grounds) => {
    for (const ground of grounds) expect(contrast(colour(ink), colour(ground))).toBeGreaterThanOrEqual(4.5);
  });

  it.each([
    ['camera-edge', ['paper', 'band', 'camera']],
    ['program-edge', ['paper', 'band', 'program']],
    ['sound-edge', ['paper', 'band', 'sound']],
    ['edge', ['paper', 'band']],
    ['warm-edge', ['paper', 'warm']],
  ])('%s can be told from %s', (edge, grounds) => {
    for (const ground of grounds) expect(contrast(colour(edge), colour(ground))).toBeGreaterThanOrEqual(3);
  });
});

it('the formula gives the ratio that WCAG states for black on white', () => {
  expect(contrast('#000', '#ffffff')).toBeCloseTo(21);
});

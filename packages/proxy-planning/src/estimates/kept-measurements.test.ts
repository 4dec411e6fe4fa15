import { expect, it } from 'vitest';
import { keepMeasured } from './kept-measurements.ts';
import type { MeasuredProxy } from './measured-proxy.ts';

const made = (seconds: number, change: Partial<MeasuredProxy> = {}): MeasuredProxy => ({
  from: 'H.264',
  to: 'h264',
  pixels: 1000,
  frames: 10,
  seconds,
  tableBytes: 100,
  bytes: 90,
  ...change,
});

it('the newest measurements of a kind are kept, and those of other kinds are left alone', () => {
  let kept: readonly MeasuredProxy[] = [made(1000, { to: 'prores-422-proxy' }), made(2000, { pixels: 500 })];
  for (let seconds = 1; seconds <= 30; seconds += 1) kept = keepMeasured(kept, made(seconds));
  expect(kept.map(({ seconds }) => seconds)).toEqual([1000, 2000, ...Array.from({ length: 12 }, (_, one) => 19 + one)]);
});

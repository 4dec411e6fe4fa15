import { expect, it } from 'vitest';
import { estimateBytes, megabitsOf } from './estimate-bytes.ts';
import { estimateSeconds } from './estimate-seconds.ts';
import { type MeasuredProxy, sumUpMeasured } from './measured-proxy.ts';

const UHD = 3840 * 2160;
const made = (change: Partial<MeasuredProxy>): MeasuredProxy => ({
  from: 'H.264',
  to: 'prores-422-proxy',
  pixels: UHD,
  frames: 1000,
  seconds: 100,
  tableBytes: 1000,
  bytes: 900,
  ...change,
});
const time = (pixels: number, samples: readonly MeasuredProxy[]): ReturnType<typeof estimateSeconds> =>
  estimateSeconds({ from: 'H.264', to: 'prores-422-proxy', pixels, frames: 500 }, sumUpMeasured(samples));

it('a time is a wide guess until something was measured, and says so', () => {
  const { basis, expected, low, high } = time(UHD, []);
  expect(basis).toBe('never measured here');
  expect([high / expected, expected / low]).toEqual([5, 5]);
});

it('a time follows what was measured, the nearer the better', () => {
  expect(time(UHD, [made({}), made({ seconds: 110 })])).toMatchObject({ expected: 52.5, basis: 'measured here' });
  const scaled = time(UHD / 4, [made({}), made({ pixels: 100, frames: 1, seconds: 9 })]);
  expect(scaled).toMatchObject({ expected: 12.5, basis: 'measured here at another size' });
  expect(time(UHD, [made({ from: 'ProRes' })])).toMatchObject({ basis: 'measured here with another codec' });
  expect(time(UHD, [made({ to: 'h264' })])).toMatchObject({ basis: 'never measured here' });
});

it('a range holds everything that was measured', () => {
  const { low, high } = time(UHD, [made({ seconds: 20 }), made({ seconds: 300 })]);
  expect([low, high]).toEqual([10, 150]);
});

const HD = { width: 1920, height: 1080 };

it('bytes are corrected by what was measured of the same codecs', () => {
  const proxy = {
    from: 'H.264',
    codec: 'prores-422-proxy',
    size: HD,
    rate: 25,
    frames: 25,
    megabits: 8,
    sound: [],
  } as const;
  const table = estimateBytes(proxy, sumUpMeasured([]));
  const corrected = estimateBytes(proxy, sumUpMeasured([made({ bytes: 500 }), made({ bytes: 700 })]));
  expect(corrected.expected / table.expected).toBeCloseTo(0.6, 3);
  expect(corrected.basis).toBe('measured here');
});

it('an h264 proxy has the bit rate asked for, by pixels and rate', () => {
  expect(megabitsOf({ size: HD, rate: 25, megabits: 8 })).toBe(8);
  expect(megabitsOf({ size: { width: 960, height: 540 }, rate: 50, megabits: 8 })).toBe(4);
  const proxy = { from: 'ProRes', codec: 'h264', size: HD, rate: 25, frames: 250, megabits: 8, sound: [] } as const;
  expect(estimateBytes(proxy, sumUpMeasured([])).expected).toBe(10_100_000);
});

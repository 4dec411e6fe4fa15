import { expect, it } from 'vitest';
import { driveSizeOf, durationText, sizeText } from './quantities.ts';

it.each([
  [0, '0 B'],
  [1023, '1023 B'],
  [1024, '1.0 KiB'],
  [1536, '1.5 KiB'],
  [1024 ** 2 - 1, '1.0 MiB'],
  [240 * 1024 ** 2, '240 MiB'],
  [64e9, '59.6 GiB'],
])('%d bytes are %s', (bytes, text) => {
  expect(sizeText(bytes)).toBe(text);
});

it.each([
  [0, 'under a minute'],
  [59, 'under a minute'],
  [60, '1 min'],
  [61, '2 min'],
  [3541, '1 h'],
  [3601, '1 h 1 min'],
])('%d seconds are %s', (seconds, text) => {
  expect(durationText(seconds)).toBe(text);
});

it.each([
  ['960GB', 960e9],
  ['1.5 TB', 1.5e12],
  ['512 GiB', 512 * 1024 ** 3],
  ['4k', null],
  ['0 GB', null],
])('a drive of %s has %d bytes', (text, bytes) => {
  expect(driveSizeOf(text)).toBe(bytes);
});

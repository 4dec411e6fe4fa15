import { expect, it } from 'vitest';
import { printBytes } from './print-bytes.ts';

it.each([
  [999, '999 B'],
  [999_600, '1.0 MB'],
  [999_400, '999 kB'],
  [1_500_000_000, '1.5 GB'],
  [960e9, '960 GB'],
  [2e12, '2.0 TB'],
])('%d bytes of a drive are %s', (bytes, text) => {
  expect(printBytes(bytes)).toBe(text);
});

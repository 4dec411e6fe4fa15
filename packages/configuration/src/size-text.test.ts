import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { bytesOf, sizeText } from './size-text.ts';

// Binary prefixes: IEC 80000-13; coreutils agrees: `numfmt --from=iec-i 1Gi` prints 1073741824.
test.each([
  ['1 GiB', 1_073_741_824],
  ['1GiB', 1_073_741_824],
  ['0.5 KiB', 512],
  ['20 GiB', 21_474_836_480],
  ['2 TiB', 2_199_023_255_552],
  ['7 B', 7],
  ['0 B', 0],
])('%s is %i bytes', (text, bytes) => {
  expect(bytesOf(text)).toBe(bytes);
});

test.each(['', '1', '1 GB', '1 gib', '-1 GiB', '1e3 MiB', '1,5 GiB', 'GiB', '99999999 TiB'])(
  '"%s" is no size',
  (text) => {
    expect(bytesOf(text)).toBeNull();
  },
);

test.each([
  [1537, '1537 B'],
  [1_610_612_736, '1536 MiB'],
  [0, '0 B'],
])('%i bytes are written as %s, without a fraction', (bytes, text) => {
  expect(sizeText(bytes)).toBe(text);
});

test('any number of bytes survives being written as text', () => {
  const round = fc.tuple(fc.nat(1000), fc.nat(4)).map(([amount, power]) => amount * 1024 ** power);
  fc.assert(
    fc.property(fc.oneof(fc.maxSafeNat(), round), (bytes) => {
      expect(bytesOf(sizeText(bytes))).toBe(bytes);
    }),
  );
});

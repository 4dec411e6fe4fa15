import { expect, it } from 'vitest';
import { listWords } from './list-words.ts';
import { showDuration, showTimeLeft } from './show-duration.ts';
import { countOf, showSize } from './show-size.ts';

it.each([
  [0, '0 s'],
  [59.4, '59 s'],
  [60, '1 min'],
  [3_599, '1 h'],
  [3_600, '1 h'],
  [4_800, '1 h 20 min'],
])('%d seconds are %s', (seconds, words) => {
  expect(showDuration(seconds)).toBe(words);
});

it.each([
  [2, 'a few seconds left'],
  [31, 'about 35 s left'],
  [57.5, 'about 1 min left'],
  [59, 'about 1 min left'],
  [180, 'about 3 min left'],
])('%d seconds left are %s', (seconds, words) => {
  expect(showTimeLeft(seconds)).toBe(words);
});

it.each([
  [0, '0 B'],
  [999, '999 B'],
  [1_000, '1.0 kB'],
  [64_000_000_000, '64 GB'],
  [8_200_000_000, '8.2 GB'],
])('%d bytes are %s', (bytes, words) => {
  expect(showSize(bytes)).toBe(words);
});

it('lists and counts', () => {
  expect([listWords([]), listWords(['a']), listWords(['a', 'b']), listWords(['a', 'b', 'c'])]).toEqual([
    '',
    'a',
    'a and b',
    'a, b and c',
  ]);
  expect([countOf(1, 'file'), countOf(2, 'file')]).toEqual(['1 file', '2 files']);
});

import { expect, it } from 'vitest';
import { believeTimes } from './believe-times.ts';
import type { KeptCopy } from './kept-copies.ts';
import { isDoneSince } from './next-reread.ts';

const NOW = '2026-11-25T10:00:00.000Z';
const COPY: KeptCopy = {
  rollId: 'wheel-1',
  shootId: 'class',
  destination: 'primary',
  fileCount: 1,
  sizeInBytes: 100,
  readBackAt: '2026-11-20T10:00:00.000Z',
  reread: null,
};

it('times that have passed are left as they are', () => {
  const reread = { since: NOW, isUnderWay: false, hasFailed: false };
  const copies = [COPY, { ...COPY, readBackAt: NOW, reread }];
  expect(believeTimes(copies, NOW)).toEqual(copies);
});

it('what a clock that was ahead called read is not done, and one that is under way stays so', () => {
  const ahead = '2030-01-01T00:00:00.000Z';
  const reread = { since: ahead, isUnderWay: false, hasFailed: false };
  for (const copy of believeTimes(
    [
      { ...COPY, readBackAt: ahead },
      { ...COPY, reread },
    ],
    NOW,
  ))
    expect(isDoneSince(copy, NOW)).toBe(false);
  const underWay = { ...COPY, reread: { ...reread, isUnderWay: true } };
  expect(believeTimes([underWay], NOW)).toEqual([underWay]);
});

import { expect, it } from 'vitest';
import { SpaceWatch } from './space-watch.ts';

const GIB = 1024 ** 3;
const told = (lowPercent: number, free: readonly number[]): readonly (string | null)[] => {
  const watch = new SpaceWatch(lowPercent);
  return free.map((freeBytes) => {
    const space = { name: 'backup', freeBytes: freeBytes * GIB, sizeInBytes: 1000 * GIB };
    return watch.look(space, '2026-03-01T10:00:00.000Z')?.type ?? null;
  });
};

it('is told once when it becomes nearly full and once when it has room again, with a margin between', () => {
  expect(told(10, [500, 100, 99.9, 50, 109, 112, 113, 90])).toEqual([
    null,
    null,
    'destination.low',
    null,
    null,
    'destination.roomy',
    null,
    'destination.low',
  ]);
});

it('is never told when no limit is wanted', () => {
  expect(told(0, [0, -5])).toEqual([null, null]);
});

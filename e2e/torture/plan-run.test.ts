import { expect, it } from 'vitest';
import { FAULT_KINDS, MOMENTS_OF } from './fault-kinds.ts';
import { CLIP, MIB, planRun } from './plan-run.ts';

it('plans the same run for the same seed and number', () => {
  expect(planRun(12, 34)).toEqual(planRun(12, 34));
  expect(planRun(12, 35)).not.toEqual(planRun(12, 34));
});

it('strikes with every kind of fault once in each round', () => {
  for (const round of [0, 1]) {
    const kinds = FAULT_KINDS.map((_, index) => planRun(5, round * FAULT_KINDS.length + index).strikes[0]?.kind);
    expect(new Set(kinds)).toEqual(new Set(FAULT_KINDS));
  }
});

it('strikes only at moments that mean something to the fault', () => {
  for (let index = 0; index < 300; index += 1) {
    for (const { kind, moment } of planRun(8, index).strikes) expect(MOMENTS_OF[kind]).toContain(moment);
  }
});

it('records a file on every drive that is large enough to be met in the middle', () => {
  for (let index = 0; index < 100; index += 1) {
    for (const { files } of planRun(9, index).recordings) expect(files[CLIP]).toBeGreaterThan(5 * MIB);
  }
});

import { expect, it } from 'vitest';
import type { ProxyPlan, Run } from '../service/look-at-work.ts';
import { proxyLines, proxyTotals } from './proxy-lines.ts';

const amount = (expected: number) => ({ expected, low: expected, high: expected });
const share = (count: number) => ({ count, bytes: amount(2_000_000_000), seconds: amount(90) });

function planOf(states: readonly ProxyPlan['clips'][number]['state'][]): ProxyPlan {
  return {
    plannedAt: '2026-11-25T18:00:00.000Z',
    isCurrent: true,
    totals: { planned: share(3), leftOut: share(1), notNeededCount: 4, impossibleCount: 0 },
    clips: states.map((state, at) => ({ clipId: `c${at}`, recorder: 'wheel', path: `${at}.mov`, state, why: 'why' })),
  };
}

function run(clip: string, state: Run['state']): Run {
  const failure = state === 'failed' ? { sentence: 'No room.' } : null;
  return { id: clip, step: 'proxy-render/render', subject: { kind: 'clip', id: clip }, state, why: 'Left.', failure };
}

it('tells of each clip what became of its proxy, what is amiss first', () => {
  const plan = planOf(['planned', 'planned', 'planned', 'planned', 'not-needed', 'left-out', 'planned']);
  const rendering = [run('c0', 'done'), run('c1', 'running'), run('c2', 'failed'), run('c6', 'cancelled')];
  expect(proxyLines(plan, rendering).map(({ clipId, state, why }) => [clipId, state, why])).toEqual([
    ['c2', 'failed', 'No room.'],
    ['c5', 'no room', 'why'],
    ['c0', 'made', null],
    ['c1', 'is being made', null],
    ['c3', 'planned, not made', null],
    ['c6', 'left out', 'Left.'],
  ]);
});

it('sums the plan up, and says when none is needed or made', () => {
  expect(proxyTotals(planOf([]))).toMatch(/^3 clips: about 2\.0 GB, .* of work\. 1 clip without room\.$/);
  const none = { planned: { ...share(0) }, leftOut: { ...share(0) }, notNeededCount: 4, impossibleCount: 0 };
  expect(proxyTotals({ ...planOf([]), totals: none })).toBe('No clip needs one.');
  expect(proxyTotals({ ...planOf([]), totals: null })).toBeNull();
});

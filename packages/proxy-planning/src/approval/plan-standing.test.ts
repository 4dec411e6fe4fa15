import { expect, it } from 'vitest';
import { clip, plan } from '../clips.test-support.ts';
import type { ProxyPlan } from '../plan/proxy-plan.ts';
import { type PlanWord, standingOf } from './plan-standing.ts';

const CLIPS = ['1', '2'].map((take) => clip(`${take}.mov`));
const PLAN = plan(CLIPS);
const said = (word: PlanWord['word'], of: ProxyPlan = PLAN): PlanWord => ({
  word,
  by: 'the producer',
  note: '',
  at: '2026-11-25T18:00:00.000Z',
  plan: of,
});

it('a plan waits for approval only where that is asked for, and goes ahead when it is given', () => {
  expect(standingOf(PLAN, null, false).state).toBe('free');
  expect(standingOf(PLAN, null, true)).toEqual({ state: 'asked', said: null, changes: [] });
  expect(standingOf(PLAN, said('approved'), true)).toMatchObject({ state: 'approved', said: { by: 'the producer' } });
});

it('other proxies than those that were approved ask anew, and say what differs', () => {
  const more = plan([...CLIPS, clip('3.mov')]);
  const { state, changes } = standingOf(more, said('approved'), true);
  expect(state).toBe('asked');
  expect(changes[0]?.sentence).toBe('wheel 3.mov: new, gets prores-422-proxy 1920x1080.');
});

it('estimates that moved, and files that need no proxy, ask nobody', () => {
  const measured = [
    { from: 'ProRes', to: 'prores-422-proxy', pixels: 1, frames: 1, seconds: 9, tableBytes: 10, bytes: 8 } as const,
  ];
  const sound = clip('4.wav', { picture: null, facts: { kind: 'sound' } });
  expect(standingOf(plan([...CLIPS, sound], { measured }), said('approved'), true).state).toBe('approved');
});

it('a plan that is held stays so, approval asked for or not, and also as another plan', () => {
  expect(standingOf(PLAN, said('held'), false).state).toBe('held');
  expect(standingOf(plan([...CLIPS, clip('3.mov')]), said('held'), true).state).toBe('held');
});

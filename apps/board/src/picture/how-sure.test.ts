import { expect, it } from 'vitest';
import { lookAtWheel } from '../drives/look.test-support.ts';
import { howSure, sureWhenShown } from './how-sure.ts';

const LIVE = { state: 'live' } as const;

it('is sure of a young look at a service that is awake', () => {
  expect(howSure(lookAtWheel(), LIVE, { wall: 9_000, steady: 9_000 })).toEqual({
    isSure: true,
    ageMs: 9_000,
    why: null,
  });
});

it('believes the clock that says more: a computer slept, or its clock was set', () => {
  expect(howSure(lookAtWheel(), LIVE, { wall: 60_000, steady: 1_000 })).toMatchObject({ isSure: false, ageMs: 60_000 });
  expect(howSure(lookAtWheel(), LIVE, { wall: -60_000, steady: 60_000 })).toMatchObject({ isSure: false });
  expect(howSure(lookAtWheel(), LIVE, { wall: -60_000, steady: 1_000 })).toMatchObject({ isSure: true, ageMs: 1_000 });
});

it('is not sure before the first look', () => {
  expect(howSure(null, { state: 'connecting' }, { wall: 0, steady: 0 })).toMatchObject({ isSure: false, ageMs: null });
  expect(howSure(null, { state: 'lost', sentence: 'It is away.' }, { wall: 0, steady: 0 }).why).toBe('It is away.');
});

it('says the same sentence while the age counts on, so that it is said aloud once', () => {
  const lost = { state: 'lost', sentence: 'The service does not answer.' } as const;
  const at = (ms: number): string | null => howSure(lookAtWheel(), lost, { wall: ms, steady: ms }).why;
  expect(at(30_000)).toBe(at(1_000));
});

it('is not sure out of sight, so that what is first seen of a page that comes back is no old verdict', () => {
  const sure = howSure(lookAtWheel(), LIVE, { wall: 1_000, steady: 1_000 });
  expect(sureWhenShown(sure, true)).toBe(sure);
  expect(sureWhenShown(sure, false)).toMatchObject({ isSure: false, why: expect.stringMatching(/out of sight/) });
});

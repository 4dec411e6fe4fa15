import { setTimeout as pause } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { oneAtATime } from './one-at-a-time.ts';

it('runs one work after the other, also after one that failed', async () => {
  const inTurn = oneAtATime();
  const order: string[] = [];
  const work = (name: string, ms: number) => async (): Promise<string> => {
    order.push(`${name} begins`);
    await pause(ms);
    order.push(`${name} ends`);
    if (name === 'b') throw new Error('b failed');
    return name;
  };
  const outcomes = await Promise.allSettled([inTurn(work('a', 30)), inTurn(work('b', 10)), inTurn(work('c', 0))]);
  expect(order).toEqual(['a begins', 'a ends', 'b begins', 'b ends', 'c begins', 'c ends']);
  expect(outcomes.map(({ status }) => status)).toEqual(['fulfilled', 'rejected', 'fulfilled']);
});

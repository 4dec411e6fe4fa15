import { setTimeout as wait } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { inRounds } from './in-rounds.ts';

it('never runs two rounds at once, and answers wishes during one by a single round after it', async () => {
  const stop = new AbortController();
  const { promise: release, resolve: finishFirst } = Promise.withResolvers<void>();
  let running = 0;
  let most = 0;
  let count = 0;
  const second = Promise.withResolvers<void>();
  const rounds = inRounds(
    async () => {
      running += 1;
      most = Math.max(most, running);
      count += 1;
      if (count === 1) await release;
      if (count === 2) second.resolve();
      running -= 1;
    },
    { everyMs: 60_000, settleMs: 1 },
    stop.signal,
  );
  for (let wish = 0; wish < 5; wish += 1) rounds.wish();
  await wait(20);
  expect(count).toBe(1);
  finishFirst();
  await second.promise;
  await wait(20);
  expect([count, most]).toEqual([2, 1]);
  stop.abort();
});

it('goes on by itself, and stops with its signal', async () => {
  const stop = new AbortController();
  const third = Promise.withResolvers<void>();
  let count = 0;
  inRounds(
    async () => {
      count += 1;
      if (count === 3) third.resolve();
    },
    { everyMs: 1, settleMs: 1 },
    stop.signal,
  );
  await third.promise;
  stop.abort();
  await wait(5);
  const after = count;
  await wait(20);
  expect(count).toBe(after);
});

import { once } from 'node:events';
import { expect, it } from 'vitest';
import { keepBeating } from './keep-beating.ts';

it('beats at once and goes on through failures until the signal aborts', async () => {
  const over = new AbortController();
  const ttls: number[] = [];
  const beating = keepBeating(async (ttlMs) => {
    ttls.push(ttlMs);
    if (ttls.length === 1) throw new Error('Redis is away');
    over.abort();
  }, over.signal);
  await once(over.signal, 'abort');
  await beating;
  expect(ttls).toEqual([6000, 6000]);
});

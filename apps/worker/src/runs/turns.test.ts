import { expect, it } from 'vitest';
import { Turns } from './turns.ts';

it('lets work of one name go one after the other, also after a failure, and other work at once', async () => {
  const turns = new Turns();
  const first = Promise.withResolvers<void>();
  const order: string[] = [];
  const fail = (): never => {
    order.push('first');
    throw new Error('no');
  };
  const running = [
    turns.take('ingest wheel', () => first.promise.then(fail)).catch(() => {}),
    turns.take('ingest wheel', async () => order.push('second')),
    turns.take('ingest hands', async () => order.push('other')),
    turns.take(null, async () => order.push('nameless')),
  ];
  await Promise.all(running.slice(2));
  expect(new Set(order)).toEqual(new Set(['other', 'nameless']));
  first.resolve();
  await Promise.all(running);
  expect(order.slice(2)).toEqual(['first', 'second']);
});

import { setImmediate as turn } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { RollGate } from './roll-gate.ts';

function held(): { promise: Promise<void>; open: () => void } {
  const { promise, resolve } = Promise.withResolvers<void>();
  return { promise, open: resolve };
}

it('lets runs of one roll go side by side', async () => {
  const gate = new RollGate();
  const first = held();
  const running = gate.run('wheel', false, () => first.promise);
  await gate.run('wheel', false, async () => {});
  first.open();
  await running;
});

it('makes a move wait for what runs, and keeps later runs out until it is done', async () => {
  const gate = new RollGate();
  const [ingest, moving] = [held(), held()];
  const order: string[] = [];
  const runs = [
    gate.run('wheel', false, () => ingest.promise.then(() => void order.push('ingest'))),
    gate.run('wheel', true, () => moving.promise.then(() => void order.push('move'))),
    gate.run('wheel', false, async () => void order.push('later')),
  ];
  await turn();
  moving.open();
  await turn();
  expect(order).toEqual([]);
  ingest.open();
  await Promise.all(runs);
  expect(order).toEqual(['ingest', 'move', 'later']);
});

it('does not hold up other rolls, and a failed run opens the gate again', async () => {
  const gate = new RollGate();
  const moving = held();
  const move = gate.run('wheel', true, () => moving.promise.then(() => Promise.reject(new Error('no'))));
  await gate.run('hands', false, async () => {});
  moving.open();
  await expect(move).rejects.toThrow('no');
  await gate.run('wheel', true, async () => {});
});

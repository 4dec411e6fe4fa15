import type { RollEvent } from '@quayside/pipeline';
import { expect, it, onTestFinished } from 'vitest';
import { applyRollEvent } from './apply-roll-event.ts';
import { askForWork } from './ask-for-work.ts';
import { openStore } from './open-store.ts';
import { testQueue } from './queue.test-support.ts';
import { testRedis } from './redis-server.test-support.ts';
import { sampleRoll, sampleVolume } from './samples.test-support.ts';

const now = '2026-05-04T10:00:00.000Z';
const { identity: volume, mount } = sampleVolume('uuid-1');
const listed: RollEvent = {
  type: 'listed',
  roll: {
    id: 'wheel-1',
    shootId: '2026-05-04',
    recorder: 'wheel',
    role: 'camera',
    volume,
    mount: mount ?? { path: '', mountId: '', device: '' },
    fingerprint: 'c0ffee',
    litterCount: 0,
    facts: 'read',
    parcels: [{ firstPath: 'CLIPS/wheel-0.mov', fileCount: 1, sizeInBytes: 1000 }],
    destinations: { primary: null, backup: null },
    findings: [],
  },
};

it('an event changes the roll, is told, and its work is asked for', async () => {
  const redis = await testRedis();
  const store = await openStore(redis.address);
  onTestFinished(() => store.close());
  const queue = await testQueue(redis);
  const roll = await applyRollEvent({ store, queue }, 'wheel-1', { event: listed, now });
  expect(await store.roll('wheel-1')).toEqual(roll);
  expect((await store.eventsAfter('0', 10)).map((event) => event.type)).toContain('roll.listed');
  expect((await queue.counts()).waiting).toBeGreaterThan(0);
});

it('an event that changes nothing is not told and asks for nothing', async () => {
  const redis = await testRedis();
  const store = await openStore(redis.address);
  onTestFinished(() => store.close());
  const queue = await testQueue(redis);
  await store.changeRoll('wheel-1', () => sampleRoll('wheel-1'));
  const event: RollEvent = { type: 'destinationReturned', destination: 'primary' };
  await applyRollEvent({ store, queue }, 'wheel-1', { event, now });
  expect(await store.eventsAfter('0', 10)).toEqual([]);
  expect(await queue.counts()).toEqual({ waiting: 0, active: 0, delayed: 0 });
});

it('work that was lost with the queue is asked for again from the states of the rolls', async () => {
  const redis = await testRedis();
  const store = await openStore(redis.address);
  onTestFinished(() => store.close());
  const queue = await testQueue(redis);
  await applyRollEvent({ store, queue }, 'wheel-1', { event: listed, now });
  const before = await queue.counts();
  await askForWork({ store, queue });
  expect(await queue.counts()).toEqual(before);
  await queue.clear();
  await askForWork({ store, queue });
  expect(await queue.counts()).toEqual(before);
});

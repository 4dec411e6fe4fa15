import type { GuestRunRecord } from '@quayside/shoot';
import { expect, it, onTestFinished } from 'vitest';
import { openStore } from './open-store.ts';
import { testRedis } from './redis-server.test-support.ts';

const RUN: GuestRunRecord = {
  id: '0123456789abcdef',
  step: 'loudness/measure',
  version: '1',
  subject: { kind: 'clip', id: 'wheel-1/CLIPS/\udcff.mov' },
  shootId: '2026-05-04',
  rollId: 'wheel-1',
  state: 'done',
  why: 'It has not run yet.',
  fingerprint: { version: '1', config: 'c', subject: 's', outputs: 'o' },
  tries: 1,
  failure: null,
  outputDigest: 'd',
  findings: [],
  filed: null,
  progress: null,
  startedAt: '2026-05-04T10:00:00.000Z',
  endedAt: '2026-05-04T10:00:01.000Z',
  tookMs: 1000,
  output: { peaks: Array.from({ length: 500 }, (_, place) => place) },
  files: [],
  log: { head: [], droppedLines: 0, tail: [] },
};

it("a guest's run is kept whole by its id and short in its shoot's list, and one row stands for each step and subject", async () => {
  const store = await openStore((await testRedis()).address);
  onTestFinished(() => store.close());
  await store.saveGuestRun({ ...RUN, state: 'running' });
  await store.saveGuestRun(RUN);
  const { output: _output, files: _files, log: _log, ...short } = RUN;
  expect(await store.guestRuns(RUN.shootId)).toEqual([short]);
  expect(await store.guestRun(RUN.id)).toEqual(RUN);
  expect(await store.guestRunCount(RUN.shootId)).toBe(1);
  await store.forgetGuestRuns(RUN.shootId, [RUN.id]);
  expect(await store.guestRuns(RUN.shootId)).toEqual([]);
  expect(await store.guestRun(RUN.id)).toBeNull();
});

it('what waits in a shoot is what was shown last', async () => {
  const store = await openStore((await testRedis()).address);
  onTestFinished(() => store.close());
  const { id, step, version, subject, rollId, shootId } = RUN;
  const wait = { id, step, version, subject, rollId, why: 'It waits for probe.', notBefore: null };
  expect(await store.guestWaits(shootId)).toEqual([]);
  await store.saveGuestWaits(shootId, [wait]);
  expect(await store.guestWaits(shootId)).toEqual([wait]);
  expect(await store.guestWaits('2026-05-05')).toEqual([]);
  await store.saveGuestWaits(shootId, []);
  expect(await store.guestWaits(shootId)).toEqual([]);
});

it('an order about a run is given once, and a later one stands for an earlier', async () => {
  const store = await openStore((await testRedis()).address);
  onTestFinished(() => store.close());
  await store.orderGuestRun(RUN.id, 'cancel');
  await store.orderGuestRun(RUN.id, 'skip');
  expect(await store.takeGuestOrders()).toEqual(new Map([[RUN.id, 'skip']]));
  expect(await store.takeGuestOrders()).toEqual(new Map());
});

import { setTimeout as pause } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { eventually, isQuiet, QUICK, recorder, testQueue, untilAborted } from './queue.test-support.ts';
import { testRedis } from './redis-server.test-support.ts';
import { sampleRun } from './samples.test-support.ts';

it('stop aborts the signal of what runs, and the run waits for the next worker with no try used up', async () => {
  const redis = await testRedis();
  const queue = await testQueue(redis, { rules: { ...QUICK, attempts: 1 } });
  const reasons: unknown[] = [];
  const { handler, started, failures } = recorder(async (_, signal) => {
    if (started.length > 1) return;
    await untilAborted(signal).catch((error: unknown) => {
      reasons.push(error);
      throw error;
    });
  });
  const worker = await queue.work(handler, { concurrency: 1 });
  await queue.ask([sampleRun('ingest-a'), sampleRun('ingest-b')]);
  await eventually(() => started.length === 1);
  await worker.stop(10_000);
  expect(reasons).toMatchObject([{ code: 'RUN_STOPPED', retry: 'later' }]);
  expect(await queue.counts()).toEqual({ waiting: 2, active: 0, delayed: 0 });
  await queue.work(handler, { concurrency: 1 });
  await eventually(() => isQuiet(queue));
  expect(started.toSorted()).toEqual(['ingest-a', 'ingest-a', 'ingest-b']);
  expect(failures).toEqual([]);
});

it('stop waits for a run that ends well in the grace time, and takes no other', async () => {
  const queue = await testQueue(await testRedis());
  let hasEnded = false;
  const { handler, started } = recorder(async () => {
    await pause(200);
    hasEnded = true;
  });
  const worker = await queue.work(handler, { concurrency: 1 });
  await queue.ask([sampleRun('ingest-a'), sampleRun('ingest-b')]);
  await eventually(() => started.length === 1);
  await worker.stop(10_000);
  expect(hasEnded).toBe(true);
  expect(await queue.counts()).toEqual({ waiting: 1, active: 0, delayed: 0 });
});

it('stop does not wait for a run that ignores the signal, nor for a Redis that is away', async () => {
  const redis = await testRedis();
  const queue = await testQueue(redis);
  const { handler, started } = recorder(() => new Promise(() => undefined));
  const worker = await queue.work(handler, { concurrency: 1 });
  await queue.ask([sampleRun('ingest-a')]);
  await eventually(() => started.length === 1);
  await redis.kill();
  await worker.stop(100);
});

it('a run whose lock was lost is aborted, and its end is not told as a failure', async () => {
  const redis = await testRedis();
  const queue = await testQueue(redis, { rules: { ...QUICK, attempts: 1, lockMs: 200, stalledCheckMs: 60_000 } });
  let isAborted = false;
  const { handler, started, failures } = recorder(async (_, signal) => {
    await untilAborted(signal).catch((error: unknown) => {
      isAborted = true;
      throw error;
    });
  });
  await queue.work(handler, { concurrency: 1 });
  await queue.ask([sampleRun('ingest-a')]);
  await eventually(() => started.length === 1);
  await redis.raw.set('quayside:runs:run-ingest-a:lock', 'somebody else');
  await eventually(() => isAborted);
  await pause(100);
  expect(failures).toEqual([]);
});

it('a run whose worker died is made again by another', async () => {
  const redis = await testRedis();
  const rules = { ...QUICK, lockMs: 300, stalledCheckMs: 100 };
  const queue = await testQueue(redis, { rules });
  const dying = recorder(() => new Promise(() => undefined));
  const worker = await queue.work(dying.handler, { concurrency: 1 });
  await queue.ask([sampleRun('ingest-a')]);
  await eventually(() => dying.started.length === 1);
  // Stopped with no grace while its run hangs: the job stays behind as active, as after a kill -9.
  await worker.stop(0);
  expect(await queue.counts()).toMatchObject({ active: 1 });
  const next = recorder();
  await queue.work(next.handler, { concurrency: 1 });
  await eventually(() => next.started.length === 1);
  await eventually(() => isQuiet(queue));
});

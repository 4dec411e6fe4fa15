import { expect, it } from 'vitest';
import { eventually, fail, isQuiet, QUICK, recorder, testQueue } from './queue.test-support.ts';
import type { RunHandler } from './queue.ts';
import { testRedis } from './redis-server.test-support.ts';
import { sampleRun } from './samples.test-support.ts';

it('a failure that may pass is tried five times, then told once, and the run may be asked for again', async () => {
  const queue = await testQueue(await testRedis());
  const { handler, started, failures } = recorder(async () => fail('later'));
  await queue.ask([sampleRun('ingest-a')]);
  await queue.work(handler, { concurrency: 1 });
  await eventually(() => failures.length > 0);
  await eventually(() => isQuiet(queue));
  expect(started).toHaveLength(5);
  expect(failures).toEqual([{ code: 'KILN_COLD', sentence: 'The kiln is cold. Heat it.', retry: 'later' }]);
  await queue.ask([sampleRun('ingest-a')]);
  await eventually(() => failures.length === 2);
});

it('a failure that passes is not told', async () => {
  const queue = await testQueue(await testRedis());
  const { handler, started, failures } = recorder(async () => {
    if (started.length < 3) fail('later');
  });
  await queue.ask([sampleRun('ingest-a')]);
  await queue.work(handler, { concurrency: 1 });
  await eventually(() => started.length === 3);
  await eventually(() => isQuiet(queue));
  expect(failures).toEqual([]);
});

it.each(['never', 'source', 'destination'] as const)('a failure with retry "%s" is told at once', async (retry) => {
  const queue = await testQueue(await testRedis());
  const { handler, started, failures } = recorder(async () => fail(retry));
  await queue.ask([sampleRun('ingest-a')]);
  await queue.work(handler, { concurrency: 1 });
  await eventually(() => failures.length > 0);
  await eventually(() => isQuiet(queue));
  expect(started).toHaveLength(1);
  expect(failures).toMatchObject([{ retry }]);
});

it('an unknown error is tried again, and told as unexpected', async () => {
  const queue = await testQueue(await testRedis(), { rules: { ...QUICK, attempts: 2 } });
  const { handler, started, failures } = recorder(async () => {
    throw new RangeError('out of clay');
  });
  await queue.ask([sampleRun('ingest-a')]);
  await queue.work(handler, { concurrency: 1 });
  await eventually(() => failures.length > 0);
  expect(started).toHaveLength(2);
  expect(failures).toMatchObject([{ code: 'UNEXPECTED', sentence: expect.stringContaining('out of clay') as string }]);
});

it('a failure that could not be noted brings the run back, until it is noted', async () => {
  const queue = await testQueue(await testRedis());
  const { handler, started, failures } = recorder(async () => fail('never'));
  const forgetful: RunHandler = {
    ...handler,
    async failed(run, failure) {
      if (started.length < 3) throw new Error('the store is away');
      await handler.failed(run, failure);
    },
  };
  await queue.ask([sampleRun('ingest-a')]);
  await queue.work(forgetful, { concurrency: 1 });
  await eventually(() => failures.length > 0);
  await eventually(() => isQuiet(queue));
  expect(started).toHaveLength(3);
  expect(failures).toHaveLength(1);
});

it('a run that takes its worker down again and again is told and given up, not dropped in silence', async () => {
  const redis = await testRedis();
  const queue = await testQueue(redis);
  const { handler, started, failures } = recorder();
  await queue.ask([sampleRun('ingest-a')]);
  // What BullMQ counts up each time it takes the run from a worker that died: `stc` in the job's hash.
  await redis.raw.hset('quayside:runs:run-ingest-a', 'stc', '21');
  await queue.work(handler, { concurrency: 1 });
  await eventually(() => failures.length > 0);
  await eventually(() => isQuiet(queue));
  expect(started).toEqual([]);
  expect(failures).toMatchObject([{ code: 'RUN_KEEPS_CRASHING', retry: 'never' }]);
});

it('a job that is not a run is dropped and does not stop the worker', async () => {
  const redis = await testRedis();
  const lines: string[] = [];
  const queue = await testQueue(redis, { rules: QUICK, log: (line) => lines.push(line) });
  const { handler, started } = recorder();
  await queue.ask([sampleRun('ingest-a')]);
  await redis.raw.hset('quayside:runs:run-ingest-a', 'data', '{"id":"?"}');
  await queue.work(handler, { concurrency: 1 });
  await queue.ask([sampleRun('ingest-b')]);
  await eventually(() => started.includes('ingest-b'));
  await eventually(() => isQuiet(queue));
  expect(lines.join()).toContain('run-ingest-a');
});

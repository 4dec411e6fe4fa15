import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { RunRequest } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { openQueue } from './open-queue.ts';
import { eventually, fail, isQuiet, recorder, testQueue, untilAborted } from './queue.test-support.ts';
import { temporaryFolder, testRedis } from './redis-server.test-support.ts';
import { sampleRun } from './samples.test-support.ts';

describe('asking', () => {
  it('a run that is asked for twice is made once, and again when asked for after its end', async () => {
    const queue = await testQueue(await testRedis());
    const { handler, started } = recorder();
    await queue.ask([sampleRun('ingest-a'), sampleRun('ingest-a'), sampleRun('12345')]);
    await queue.ask([sampleRun('ingest-a')]);
    expect(await queue.counts()).toEqual({ waiting: 2, active: 0, delayed: 0 });
    await queue.work(handler, { concurrency: 2 });
    await eventually(() => isQuiet(queue));
    expect(started.toSorted()).toEqual(['12345', 'ingest-a']);
    await queue.ask([sampleRun('ingest-a')]);
    await eventually(() => started.length === 3);
  });

  it('a run that is asked for while it runs is not made a second time', async () => {
    const queue = await testQueue(await testRedis());
    const gate = new AbortController();
    const { handler, started } = recorder(() => untilAborted(gate.signal).catch(() => undefined));
    await queue.work(handler, { concurrency: 4 });
    await queue.ask([sampleRun('ingest-a')]);
    await eventually(() => started.length === 1);
    await queue.ask([sampleRun('ingest-a')]);
    expect(await queue.counts()).toEqual({ waiting: 0, active: 1, delayed: 0 });
    gate.abort();
    await eventually(() => isQuiet(queue));
    expect(started).toEqual(['ingest-a']);
  });

  it('a run arrives as it was asked for, and at most as many at once as allowed', async () => {
    const queue = await testQueue(await testRedis());
    const inputs = { path: 'a\uDC80', list: [1, null], nested: { deep: true } };
    const seen: RunRequest[] = [];
    let running = 0;
    let most = 0;
    const { handler } = recorder(async (request) => {
      running += 1;
      most = Math.max(most, running);
      await pause(20);
      running -= 1;
      seen.push(request);
    });
    await queue.ask(Array.from({ length: 12 }, (_, index) => ({ ...sampleRun(`run-${index}`), inputs })));
    await queue.work(handler, { concurrency: 3 });
    await eventually(() => seen.length === 12);
    expect(seen.toSorted((a, b) => a.id.localeCompare(b.id))[0]).toEqual({ ...sampleRun('run-0'), inputs });
    expect(most).toBe(3);
  });

  it('more runs than go to Redis in one breath are all asked for, and each is made once', async () => {
    const queue = await testQueue(await testRedis());
    const { handler, started } = recorder();
    const runs = Array.from({ length: 1_201 }, (_, index) => sampleRun(`run-${index}`));
    await queue.ask(runs);
    await queue.work(handler, { concurrency: 8 });
    await eventually(() => isQuiet(queue));
    expect(started.toSorted()).toEqual(runs.map(({ id }) => id).toSorted());
  });
});

describe('clearing', () => {
  it('clear drops what waits, rests and runs, aborts the runs, and all may be asked for again', async () => {
    const queue = await testQueue(await testRedis(), { rules: { firstPauseMs: 60_000 } });
    let isFirst = true;
    const aborted: string[] = [];
    const { handler, started, failures } = recorder(async (request, signal) => {
      if (!isFirst) return;
      if (request.id === 'resting') fail('later');
      await untilAborted(signal).catch((error: unknown) => {
        aborted.push(request.id);
        throw error;
      });
    });
    await queue.work(handler, { concurrency: 2 });
    await queue.ask([sampleRun('resting'), sampleRun('one'), sampleRun('two'), sampleRun('waiting')]);
    await eventually(async () => {
      const { waiting, active, delayed } = await queue.counts();
      return waiting === 1 && active === 2 && delayed === 1;
    });
    // Redis counts a run as active a moment before its handler is called.
    await eventually(() => started.length === 3);
    isFirst = false;
    await queue.clear();
    await eventually(() => isQuiet(queue));
    await eventually(() => aborted.length === 2);
    await queue.ask([sampleRun('resting'), sampleRun('one'), sampleRun('two'), sampleRun('waiting')]);
    await eventually(() => started.length === 7);
    await eventually(() => isQuiet(queue));
    expect(failures).toEqual([]);
  });

  // BullMQ takes a thousand away at a time.
  it('clear drops what a dead worker left as active, also thousands that wait', async () => {
    const redis = await testRedis();
    const queue = await testQueue(redis);
    const { handler, started } = recorder(() => new Promise(() => undefined));
    const worker = await queue.work(handler, { concurrency: 1 });
    await queue.ask(Array.from({ length: 2_500 }, (_, index) => sampleRun(`run-${index}`)));
    await eventually(() => started.length === 1);
    await worker.stop(0);
    await queue.clear();
    expect(await queue.counts()).toEqual({ waiting: 0, active: 0, delayed: 0 });
    expect(await redis.raw.keys('quayside:runs:run-*')).toEqual([]);
    await queue.clear();
  });

  it('a clear that was cut off half-way does not keep the queue paused', async () => {
    const redis = await testRedis();
    const queue = await testQueue(redis);
    await redis.raw.hset('quayside:runs:meta', 'paused', '1');
    const { handler, started } = recorder();
    await queue.ask([sampleRun('ingest-a')]);
    await queue.work(handler, { concurrency: 1 });
    await eventually(() => started.length === 1);
  });
});

describe('the loss of Redis', () => {
  it('a Redis that is absent at the start is an error in time', async () => {
    const address = { kind: 'socket', path: join(await temporaryFolder(), 'nobody.sock') } as const;
    await expect(openQueue(address, { connectWithinMs: 300 })).rejects.toMatchObject({ code: 'REDIS_UNREACHABLE' });
  });

  it('calls fail at once while Redis is away, and a worker cannot be started', async () => {
    const redis = await testRedis();
    const queue = await testQueue(redis, { connectWithinMs: 300 });
    await redis.kill();
    const unreachable = { code: 'REDIS_UNREACHABLE', retry: 'later' };
    await expect(queue.ask([sampleRun('ingest-a')])).rejects.toMatchObject(unreachable);
    await expect(queue.counts()).rejects.toMatchObject(unreachable);
    await expect(queue.clear()).rejects.toMatchObject(unreachable);
    await expect(queue.work(recorder().handler, { concurrency: 1 })).rejects.toMatchObject(unreachable);
  });

  it('a queue that was first used while Redis was away works when Redis is back', async () => {
    const redis = await testRedis();
    const queue = await testQueue(redis, { connectWithinMs: 300 });
    redis.pause();
    await expect(queue.ask([sampleRun('ingest-a')])).rejects.toMatchObject({ code: 'REDIS_UNREACHABLE' });
    redis.resume();
    await eventually(async () =>
      queue.ask([sampleRun('ingest-a')]).then(
        () => true,
        () => false,
      ),
    );
    expect((await queue.counts()).waiting).toBe(1);
  });

  it('a worker outlives the restart of Redis: what ran ends once, and what is asked for after is made', async () => {
    const redis = await testRedis('--appendfsync', 'always');
    const queue = await testQueue(redis);
    const gate = new AbortController();
    const { handler, started, failures } = recorder(async (request) => {
      if (request.id === 'before') await untilAborted(gate.signal).catch(() => undefined);
    });
    await queue.work(handler, { concurrency: 2 });
    await queue.ask([sampleRun('before')]);
    await eventually(() => started.length === 1);
    await redis.kill();
    gate.abort();
    await pause(500);
    await redis.start();
    await eventually(() =>
      queue.ask([sampleRun('after')]).then(
        () => true,
        () => false,
      ),
    );
    await eventually(() => started.includes('after'));
    await eventually(() => isQuiet(queue));
    expect(started).toEqual(['before', 'after']);
    expect(failures).toEqual([]);
  });

  it('a worker outlives FLUSHALL', async () => {
    const redis = await testRedis();
    const queue = await testQueue(redis);
    const { handler, started } = recorder();
    await queue.work(handler, { concurrency: 1 });
    await queue.ask([sampleRun('before')]);
    await eventually(() => started.length === 1);
    await redis.raw.flushall();
    await redis.raw.script('FLUSH');
    await queue.ask([sampleRun('after')]);
    await eventually(() => started.length === 2);
    expect(await queue.counts()).toMatchObject({ waiting: 0 });
  });

  it('trouble is told once, not with every failed try', async () => {
    const redis = await testRedis();
    const lines: string[] = [];
    const queue = await testQueue(redis, { log: (line) => lines.push(line) });
    await queue.work(recorder().handler, { concurrency: 1 });
    await redis.kill();
    await pause(1500);
    expect(lines.length).toBeGreaterThan(0);
    expect(new Set(lines.map((line) => line.replace(/:.*/, ''))).size).toBe(lines.length);
  });
});

it('queues of two names beside each other know nothing of one another', async () => {
  const redis = await testRedis();
  const [runs, letters] = [await testQueue(redis), await testQueue(redis, { name: 'letters' })];
  await runs.ask([sampleRun('one')]);
  await letters.ask([sampleRun('one'), sampleRun('two')]);
  expect([(await runs.counts()).waiting, (await letters.counts()).waiting]).toEqual([1, 2]);
  await letters.clear();
  expect([(await runs.counts()).waiting, (await letters.counts()).waiting]).toEqual([1, 0]);
});

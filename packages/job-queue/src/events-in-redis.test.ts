import { setTimeout as pause } from 'node:timers/promises';
import type { StreamedEvent } from '@quayside/shoot';
import { expect, it, onTestFinished } from 'vitest';
import { openStore, type StoreOptions } from './open-store.ts';
import { type TestRedis, testRedis } from './redis-server.test-support.ts';
import { sampleEvent } from './samples.test-support.ts';
import type { Store } from './store.ts';

async function testStore(redis: TestRedis, options?: StoreOptions): Promise<Store> {
  const store = await openStore(redis.address, options);
  onTestFinished(() => store.close());
  return store;
}

/** Collects what `follow` gives; `until` waits for a number of events. */
function collect(store: Store, afterId: string) {
  const abort = new AbortController();
  onTestFinished(() => abort.abort());
  const events: StreamedEvent[] = [];
  const over = (async () => {
    for await (const event of store.follow(afterId, abort.signal)) events.push(event);
  })();
  return {
    abort,
    over,
    subjects: () => events.map((event) => event.subject),
    async until(count: number) {
      while (events.length < count) await pause(10);
    },
  };
}

async function publish(store: Store, subject: string): Promise<void> {
  for (;;) {
    try {
      return await store.publish([sampleEvent(subject)]);
    } catch {
      await pause(20);
    }
  }
}

it('events come back in order, each with an id that only grows, and from after any of them', async () => {
  const store = await testStore(await testRedis());
  const data = { path: 'a\uDC80', bytes: 12, list: [1, null, 'x'] };
  await store.publish([sampleEvent('a'), { ...sampleEvent('b'), data }, sampleEvent('c')]);
  await store.publish([]);
  const all = await store.eventsAfter('0', 100);
  expect(all).toMatchObject([sampleEvent('a'), { ...sampleEvent('b'), data }, sampleEvent('c')]);
  const [a, b] = all;
  expect((await store.eventsAfter(a?.id ?? '', 1)).map((event) => event.subject)).toEqual(['b']);
  expect((await store.eventsAfter(b?.id ?? '', 100)).map((event) => event.subject)).toEqual(['c']);
});

it('an id that no event can have is refused by name', async () => {
  const store = await testStore(await testRedis());
  for (const id of ['', 'x', '-', '+', '$', '1-2-3', '99999999999999999999', '1 2']) {
    await expect(store.eventsAfter(id, 1)).rejects.toMatchObject({ code: 'EVENT_ID_UNKNOWN', retry: 'never' });
  }
});

it('the stream keeps about the last ten thousand events', async () => {
  const redis = await testRedis();
  const store = await testStore(redis);
  const many = Array.from({ length: 1000 }, (_, index) => sampleEvent(String(index)));
  for (let round = 0; round < 12; round += 1) await store.publish(many);
  const kept = await redis.raw.xlen('quayside:events');
  expect(kept).toBeGreaterThanOrEqual(10_000);
  expect(kept).toBeLessThan(10_200);
});

it('a follower gets what is kept after its id, then what comes', async () => {
  const store = await testStore(await testRedis());
  await store.publish([sampleEvent('a'), sampleEvent('b')]);
  const [first] = await store.eventsAfter('0', 1);
  const follower = collect(store, first?.id ?? '');
  await follower.until(1);
  await store.publish([sampleEvent('c')]);
  await follower.until(2);
  expect(follower.subjects()).toEqual(['b', 'c']);
});

it('a follower from now on gets what is published after the call, even before it is read from', async () => {
  const store = await testStore(await testRedis());
  await store.publish([sampleEvent('old')]);
  const abort = new AbortController();
  const events = store.follow('$', abort.signal)[Symbol.asyncIterator]();
  await store.publish([sampleEvent('new')]);
  const { value } = await events.next();
  expect(value).toMatchObject({ subject: 'new' });
  abort.abort();
  expect(await events.next()).toMatchObject({ done: true });
});

it('a follower tells of no trouble while there is none, and of its connection once Redis was away', async () => {
  const redis = await testRedis();
  const lines: string[] = [];
  const store = await testStore(redis, { log: (line) => lines.push(line) });
  await publish(store, 'a');
  const follower = collect(store, '0');
  await follower.until(1);
  expect(lines).toEqual([]);
  await redis.kill();
  while (lines.length === 0) await pause(10);
  await redis.start();
  await publish(store, 'b');
  await follower.until(2);
});

it('a follower that leaves in the middle of waiting is no trouble', async () => {
  const lines: string[] = [];
  const store = await testStore(await testRedis(), { log: (line) => lines.push(line) });
  await publish(store, 'a');
  const follower = collect(store, '0');
  await follower.until(1);
  // Until it waits for the next one.
  await pause(200);
  follower.abort.abort();
  await follower.over;
  // Redis has answered since, so has the closed connection.
  await store.ping();
  expect(lines).toEqual([]);
});

it('a follower ends at its abort, also in the middle of waiting and while Redis is away', async () => {
  const redis = await testRedis();
  const store = await testStore(redis);
  const waiting = collect(store, '$');
  await publish(store, 'a');
  await waiting.until(1);
  waiting.abort.abort();
  await waiting.over;
  const cutOff = collect(store, '0');
  await cutOff.until(1);
  await redis.kill();
  // Until it waits for its connection to come back.
  await pause(300);
  cutOff.abort.abort();
  await cutOff.over;
  const never = new AbortController();
  never.abort();
  for await (const event of store.follow('0', never.signal)) expect(event).toBeUndefined();
});

it('a follower goes on after the last event when Redis was killed and is back', async () => {
  const redis = await testRedis('--appendfsync', 'always');
  const store = await testStore(redis);
  const follower = collect(store, '0');
  await publish(store, 'a');
  await follower.until(1);
  await redis.kill();
  await pause(300);
  await redis.start();
  await publish(store, 'b');
  await follower.until(2);
  await redis.raw.flushall();
  await publish(store, 'c');
  await follower.until(3);
  expect(follower.subjects()).toEqual(['a', 'b', 'c']);
});

it('a follower leaves a connection that gives no answer, and goes on', async () => {
  const redis = await testRedis();
  const store = await testStore(redis);
  const follower = collect(store, '0');
  await publish(store, 'a');
  await follower.until(1);
  const connections = String(await redis.raw.client('LIST'));
  redis.pause();
  // Longer than a blocking read and the time limit for its answer.
  await pause(9000);
  redis.resume();
  await publish(store, 'b');
  await follower.until(2);
  expect(follower.subjects()).toEqual(['a', 'b']);
  expect(String(await redis.raw.client('LIST')).split('\n').length).toBeLessThanOrEqual(connections.split('\n').length);
});

it('a consumer that stops reading lets go of its connection', async () => {
  const redis = await testRedis();
  const store = await testStore(redis);
  await publish(store, 'a');
  for await (const event of store.follow('0', new AbortController().signal)) {
    expect(event.subject).toBe('a');
    break;
  }
  while (/cmd=xread/.test(String(await redis.raw.client('LIST')))) await pause(10);
});

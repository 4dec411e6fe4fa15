import type { Rebuild } from '@quayside/job-queue';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { z } from 'zod';
import { NOW, startTestApi, TOKEN, type TestApi } from './api.test-support.ts';

let api: TestApi;
beforeEach(async () => {
  api = await startTestApi();
});
afterEach(async () => api[Symbol.asyncDispose]());

const Any = z.record(z.string(), z.unknown());

async function ask(body?: unknown): Promise<{ readonly status: number; readonly body: z.output<typeof Any> }> {
  const answer = await api.post('/v1/rebuild', body);
  return { status: answer.status, body: Any.parse(await answer.json()) };
}

async function last(): Promise<unknown> {
  return z.object({ rebuild: z.unknown() }).parse(await (await api.get('/v1/rebuild')).json()).rebuild;
}

it('a remaking of the view waits for the worker, once however often it is asked for', async () => {
  expect(await last()).toBeNull();
  await api.store.beat('worker', 60_000, 'here 1');
  const first = await ask({ shootId: 'kiln-day' });
  expect(first).toMatchObject({ status: 202, body: { shootId: 'kiln-day', state: 'waiting', askedAt: NOW } });
  expect(await last()).toEqual(first.body);
  expect(await ask({ shootId: 'kiln-day' })).toEqual(first);
  expect(await ask()).toMatchObject({ status: 409, body: { type: '/problems/rebuild-under-way' } });
  const report = { sentence: 'They agree.', onRecord: 1, inView: 1, unsealed: 0, unread: [], rolls: [] };
  // As the worker writes it.
  const done = { ...first.body, state: 'done', endedAt: NOW, report } as unknown as Rebuild;
  await api.store.saveRebuild(done);
  expect(await last()).toEqual(done);
  expect((await ask()).body).toMatchObject({ shootId: null, state: 'waiting' });
});

it('is refused while there is no worker to make it, and for what can be no shoot', async () => {
  expect(await ask()).toMatchObject({ status: 503, body: { type: '/problems/worker-away' } });
  expect(await ask({ shootId: '../etc' })).toMatchObject({ status: 422, body: { type: '/problems/invalid-body' } });
  expect(await last()).toBeNull();
});

it('leaves a record of who asked for it, and is carried out once under an idempotency key', async () => {
  await api.store.beat('worker', 60_000, 'here 1');
  const headers = { authorization: `Bearer ${TOKEN}`, 'idempotency-key': 'rebuild-1', 'quayside-operator': 'ada' };
  const send = (): Promise<Response> => fetch(`${api.url}/v1/rebuild`, { method: 'POST', headers });
  const first = Any.parse(await (await send()).json());
  const ended = { ...first, state: 'failed', endedAt: NOW } as unknown as Rebuild;
  await api.store.saveRebuild(ended);
  expect(await (await send()).json()).toEqual(first);
  expect(await last()).toEqual(ended);
  const { entries } = z.object({ entries: z.array(z.unknown()) }).parse(await (await api.get('/v1/audit')).json());
  expect(entries[0]).toEqual({ at: NOW, by: 'ada', action: 'POST /v1/rebuild', body: null, status: 202 });
});

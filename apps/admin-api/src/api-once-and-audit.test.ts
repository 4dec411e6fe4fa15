import { setTimeout as wait } from 'node:timers/promises';
import { appendFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addRoll, FAILED_AT_BACKUP, startTestApi, TOKEN, type TestApi } from './api.test-support.ts';

let api: TestApi;
beforeAll(async () => {
  api = await startTestApi();
});
afterAll(() => api[Symbol.asyncDispose]());

function post(path: string, body: object, headers: Record<string, string> = {}): Promise<Response> {
  return fetch(api.url + path, {
    method: 'POST',
    headers: { authorization: `Bearer ${TOKEN}`, 'content-type': 'application/json', ...headers },
    body: JSON.stringify(body),
  });
}

async function entries(): Promise<readonly Record<string, unknown>[]> {
  // What the API promises is checked where it is read.
  return ((await (await api.get('/v1/audit')).json()) as { entries: Record<string, unknown>[] }).entries;
}

describe('a request with an idempotency key', () => {
  it('is carried out once, however often it comes, and is answered the same', async () => {
    const key = { 'idempotency-key': 'open-kiln-1' };
    const first = await post('/v1/shoots', { name: 'Kiln day' }, key);
    const again = await post('/v1/shoots', { name: 'Kiln day' }, key);
    expect([first.status, again.status]).toEqual([201, 201]);
    expect(await again.json()).toEqual(await first.json());
    expect(again.headers.get('idempotency-replayed')).toBe('true');
    // Without the key it is a new request, which finds the name taken.
    expect((await post('/v1/shoots', { name: 'Kiln day' })).status).toBe(409);
  });

  it('is carried out once also when it comes twice at the same time', async () => {
    await addRoll(api.store, { id: 'wheel-7' }, [FAILED_AT_BACKUP]);
    const key = { 'idempotency-key': 'retry-wheel-7' };
    const answers = await Promise.all([1, 2, 3].map(() => post('/v1/rolls/wheel-7/retry', {}, key)));
    expect(answers.map(({ status }) => status).every((status) => status === 202 || status === 409)).toBe(true);
    expect(answers.some(({ status }) => status === 202)).toBe(true);
    const roll = await api.store.roll('wheel-7');
    expect(roll?.parcels[1]?.copies['backup']).toMatchObject({ attempt: 1 });
  });

  it('that differs from the first under its key is refused, and a refusal is kept as well', async () => {
    const key = { 'idempotency-key': 'mixed-up' };
    const refused = await post('/v1/rolls/nowhere/retry', {}, key);
    expect([refused.status, (await post('/v1/rolls/nowhere/retry', {}, key)).status]).toEqual([404, 404]);
    const other = await post('/v1/shoots', { name: 'Other' }, key);
    expect([other.status, await other.json()]).toMatchObject([422, { type: '/problems/key-reused' }]);
  });

  it.each(['', 'with blank', 'x'.repeat(256)])('is refused when the key is "%s"', async (key) => {
    expect((await post('/v1/shoots', { name: 'Any' }, { 'idempotency-key': key })).status).toBe(400);
  });
});

describe('an answer whose time runs out while its change is put on record', () => {
  it('stays what it is, from its status to its type', async () => {
    const slow = { add: () => wait(1_500), all: async () => [] };
    await using late = await startTestApi({ audit: slow, answerWithinMs: 1_000 });
    const answer = await late.post('/v1/rolls/nowhere/retry');
    expect([answer.status, answer.headers.get('content-type')]).toEqual([
      404,
      'application/problem+json; charset=utf-8',
    ]);
    expect(await answer.json()).toMatchObject({ type: '/problems/roll-unknown', status: 404 });
    const opened = await late.post('/v1/shoots', { name: 'Slow day' });
    expect([opened.status, opened.headers.get('content-type')]).toEqual([201, 'application/json; charset=utf-8']);
    expect(await opened.json()).toMatchObject({ id: 'slow-day' });
  });
});

describe('the record of changes', () => {
  it('says who asked for what and when, also for what was refused', async () => {
    await post('/v1/shoots', { name: 'Glaze day' }, { 'quayside-operator': 'ada' });
    await post('/v1/rolls/nowhere/retry', {});
    expect((await entries()).slice(0, 2)).toEqual([
      { at: expect.any(String), by: 'unnamed', action: 'POST /v1/rolls/nowhere/retry', body: {}, status: 404 },
      { at: expect.any(String), by: 'ada', action: 'POST /v1/shoots', body: { name: 'Glaze day' }, status: 201 },
    ]);
  });

  it('is given in pages, and by who asked or what for', async () => {
    for (const name of ['Slip', 'Bisque']) await post('/v1/shoots', { name }, { 'quayside-operator': 'grace' });
    const first = JSON.parse(await (await api.get('/v1/audit?by=grace&limit=1')).text());
    const second = JSON.parse(await (await api.get(`/v1/audit?by=grace&limit=1&cursor=${first.next}`)).text());
    const told = [first, second].map((page) => page.entries.map((entry: { body: unknown }) => entry.body));
    expect([told, second.next]).toEqual([[[{ name: 'Bisque' }], [{ name: 'Slip' }]], null]);
    expect(JSON.parse(await (await api.get('/v1/audit?action=/nothing')).text()).entries).toEqual([]);
  });

  it('tells nothing of looking, of strangers, or of the token', async () => {
    const before = await entries();
    await api.get('/v1/rolls');
    await post('/v1/shoots', { name: 'Stranger' }, { authorization: 'Bearer wrong' });
    expect(await entries()).toEqual(before);
    expect(JSON.stringify(before)).not.toContain(TOKEN);
  });

  it('outlives Redis and a line that was torn by a crash, and is for this user alone', async () => {
    const file = join(api.folder, 'audit.jsonl');
    await appendFile(file, '{"at":"2026-');
    await post('/v1/shoots', { name: 'After the crash' });
    expect((await entries())[0]).toMatchObject({ action: 'POST /v1/shoots', body: { name: 'After the crash' } });
    expect((await stat(file)).mode & 0o777).toBe(0o600);
  });
});

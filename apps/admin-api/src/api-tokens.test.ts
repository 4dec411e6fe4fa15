import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { NOW, startTestApi, type TestApi, TOKEN } from './api.test-support.ts';

let api: TestApi;
beforeAll(async () => {
  api = await startTestApi();
});
afterAll(async () => api[Symbol.asyncDispose]());

const Made = z.looseObject({ id: z.string(), token: z.string() });
const List = z.object({ tokens: z.array(z.looseObject({ id: z.string(), name: z.string() })), next: z.null() });

async function make(body: object): Promise<z.output<typeof Made>> {
  const answer = await api.post('/v1/tokens', body);
  expect([answer.status, answer.headers.get('cache-control')]).toEqual([201, 'no-store']);
  return Made.parse(await answer.json());
}

async function list(query = ''): Promise<z.output<typeof List>['tokens']> {
  return List.parse(await (await api.get(`/v1/tokens${query}`)).json()).tokens;
}

async function statusWith(token: string, path = '/v1/rolls', method = 'GET'): Promise<number> {
  return (await fetch(api.url + path, { method, headers: { authorization: `Bearer ${token}` } })).status;
}

describe('tokens over the API', () => {
  it('are made, shown once, and count at once for what their scope allows', async () => {
    const { token, ...made } = await make({ name: 'wall screen', scope: 'read', days: 30 });
    expect(made).toMatchObject({ scope: 'read', madeAt: NOW, expiresAt: '2026-03-31T10:00:00.000Z', state: 'good' });
    expect([await statusWith(token), await statusWith(token, '/v1/rolls/a/retry', 'POST')]).toEqual([200, 403]);
    expect(await (await api.get(`/v1/tokens/${made.id}`)).json()).toEqual(made);
    expect(JSON.stringify(await list())).not.toContain(token.split('.')[1]);
  });

  it('are listed with what became of them, and can be asked for by that', async () => {
    const { id } = await make({ name: 'phone', scope: 'operate' });
    expect((await api.get('/v1/tokens?sort=name&fields=id,name')).status).toBe(200);
    expect((await list('?state=good')).map((one) => one.id)).toContain(id);
    expect(await list('?state=revoked')).toEqual([]);
  });

  it('count no more once they are revoked, however often', async () => {
    const { id, token } = await make({ name: 'script', scope: 'admin' });
    expect(await statusWith(token, '/v1/tokens')).toBe(200);
    for (let times = 0; times < 2; times += 1) {
      const answer = await fetch(`${api.url}/v1/tokens/${id}`, {
        method: 'DELETE',
        headers: { authorization: `Bearer ${TOKEN}` },
      });
      expect(await answer.json()).toMatchObject({ id, state: 'revoked', revokedAt: NOW });
    }
    expect(await statusWith(token, '/v1/tokens')).toBe(401);
    expect((await list('?state=revoked')).map((one) => one.id)).toEqual([id]);
  });

  it('that nobody made are not found, and what makes no sense is refused', async () => {
    expect((await api.get('/v1/tokens/nosuchid')).status).toBe(404);
    expect((await api.post('/v1/tokens', { name: 'x', scope: 'root' })).status).toBe(422);
    expect((await api.post('/v1/tokens', { name: 'x', scope: 'read', days: 0 })).status).toBe(422);
  });

  it('are kept in no record of changes, and under no idempotency key', async () => {
    const { token } = await make({ name: 'secret', scope: 'read' });
    const [, secret = token] = token.split('.');
    expect(await (await api.get('/v1/audit')).text()).not.toContain(secret);
    const headers = { authorization: `Bearer ${TOKEN}`, 'content-type': 'application/json', 'idempotency-key': 'once' };
    const body = JSON.stringify({ name: 'again', scope: 'read' });
    expect((await fetch(`${api.url}/v1/tokens`, { method: 'POST', headers, body })).status).toBe(400);
    expect((await list()).map(({ name }) => name)).not.toContain('again');
  });

  it('that are made side by side are all kept', async () => {
    const names = Array.from({ length: 12 }, (_, index) => `helper-${index}`);
    const made = await Promise.all(names.map((name) => make({ name, scope: 'read' })));
    expect((await Promise.all(made.map(({ token }) => statusWith(token)))).every((status) => status === 200)).toBe(
      true,
    );
    expect((await list()).map(({ name }) => name)).toEqual(expect.arrayContaining(names));
  });
});

import { request } from 'node:http';
import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addRoll, startTestApi, type TestApi, TOKEN } from './api.test-support.ts';
import { PROBLEM_KINDS } from './problems/problem-kinds.ts';

let api: TestApi;
beforeAll(async () => {
  api = await startTestApi();
});
afterAll(async () => api[Symbol.asyncDispose]());

// RFC 9457, section 3 (members) and 6 (media type).
async function expectProblem(
  response: Response,
  status: number,
  kind: keyof typeof PROBLEM_KINDS,
): Promise<Record<string, unknown>> {
  expect(response.headers.get('content-type')).toContain('application/problem+json');
  const problem: Record<string, unknown> = JSON.parse(await response.text());
  expect(problem).toMatchObject({ type: `/problems/${kind}`, status, title: PROBLEM_KINDS[kind].title });
  expect(response.status).toBe(status);
  expect(problem['detail']).toBeTypeOf('string');
  return problem;
}

describe('who gets in', () => {
  it('refuses a request without a token, and says how to send one (RFC 6750, section 3)', async () => {
    const response = await fetch(`${api.url}/v1/rolls`);
    expect(response.headers.get('www-authenticate')).toBe('Bearer realm="quayside"');
    await expectProblem(response, 401, 'token-needed');
  });

  it.each(['Bearer x', `Bearer ${TOKEN}x`, `Bearer ${TOKEN.slice(1)}`, `Basic ${TOKEN}`, TOKEN, 'Bearer '])(
    'refuses the wrong authorization %j',
    async (authorization) => {
      await expectProblem(await fetch(`${api.url}/v1/rolls`, { headers: { authorization } }), 401, 'token-needed');
    },
  );

  it('tells nobody without a token which addresses exist', async () => {
    await expectProblem(await fetch(`${api.url}/v1/no-such-thing`), 401, 'token-needed');
  });

  it.each(['/v1/health/live', '/openapi.json', '/problems/roll-unknown', '/v1/codes', '/v1/codes/ONE_DEVICE'])(
    'answers %s without a token',
    async (path) => {
      expect((await fetch(api.url + path)).status).toBe(200);
    },
  );

  it.each(['evil.example', 'evil.example:80', '127.0.0.1.evil.example', 'localhost.evil.example:4180', 'x'])(
    'does not answer under the host name %j, not even with the token',
    async (host) => {
      expect(await statusUnderHost('/v1/rolls', host)).toBe(421);
      expect(await statusUnderHost('/v1/health/live', host)).toBe(421);
    },
  );

  it.each(['127.0.0.1:9', 'localhost', '[::1]:4180'])('answers under the own host name %j', async (host) => {
    expect(await statusUnderHost('/v1/rolls', host)).toBe(200);
  });
});

describe('problem documents', () => {
  it('explains every kind of problem under its type', async () => {
    for (const [code, kind] of Object.entries(PROBLEM_KINDS)) {
      const response = await fetch(`${api.url}/problems/${code}`);
      expect(await response.json()).toEqual({ type: `/problems/${code}`, ...kind });
    }
    await expectProblem(await fetch(`${api.url}/problems/constructor`), 404, 'nothing-here');
    await expectProblem(await fetch(`${api.url}/v1/codes/constructor`), 404, 'nothing-here');
  });

  it('answers an unknown address and a wrong method', async () => {
    await expectProblem(await api.get('/v1/no-such-thing'), 404, 'nothing-here');
    await expectProblem(await api.post('/v1/rolls', {}), 404, 'nothing-here');
  });

  it.each([
    '/v1/rolls/nobody',
    '/v1/rolls/..%2f..%2fetc%2fpasswd',
    '/v1/rolls/%00',
    '/v1/rolls/__proto__',
    `/v1/rolls/${'a'.repeat(65)}`,
    '/v1/rolls/A%20B',
    '/v1/rolls/roll%0d%0aset-cookie:x',
    '/v1/rolls/*',
    '/v1/shoots/constructor',
    '/v1/shoots/%F0%9F%8E%AC',
    '/v1/volumes/nope',
    '/v1/volumes/NOPE',
    '/v1/rolls/nobody/copies',
  ])('answers 404 for the hostile or unknown id in %s', async (path) => {
    const response = await api.get(path);
    expect(response.status).toBe(404);
    expect(response.headers.get('content-type')).toContain('application/problem+json');
  });

  it('answers an address that cannot be decoded', async () => {
    await expectProblem(await api.get('/v1/rolls/%zz'), 400, 'bad-request');
  });

  it.each([
    '/v1/rolls?limit=0',
    '/v1/rolls?limit=lots',
    '/v1/rolls?verdict=maybe',
    '/v1/rolls?shoot=../x',
    '/v1/events/list?after=x',
  ])('points at the query value that cannot be used in %s', async (path) => {
    const problem = await expectProblem(await api.get(path), 400, 'bad-request');
    expect(problem['errors']).toEqual([{ detail: expect.any(String), pointer: `#/${/\?(\w+)/.exec(path)?.[1]}` }]);
  });

  it.each(['x', 'e30', 'WyJhIl0', Buffer.from('["a",{}]').toString('base64url')])(
    'refuses the cursor %j',
    async (cursor) => {
      await expectProblem(await api.get(`/v1/rolls?cursor=${cursor}`), 400, 'bad-request');
    },
  );

  it('answers a body that is no JSON, too large, or of another type', async () => {
    await expectProblem(await api.post('/v1/shoots', '{'), 400, 'bad-request');
    await expectProblem(await api.post('/v1/shoots', JSON.stringify({ name: 'x'.repeat(20_000) })), 413, 'too-large');
    const headers = { authorization: `Bearer ${TOKEN}`, 'content-type': 'text/plain' };
    await expectProblem(await fetch(`${api.url}/v1/shoots`, { method: 'POST', headers, body: 'x' }), 415, 'not-json');
  });

  it.each([
    [{}, '#/name'],
    [{ name: '' }, '#/name'],
    [{ name: 7 }, '#/name'],
    [{ name: 'x'.repeat(201) }, '#/name'],
    [[], '#'],
    [{ name: 'Kiln', id: 'x' }, '#'],
  ])('points at what cannot be used in the body %j', async (body, pointer) => {
    const problem = await expectProblem(await api.post('/v1/shoots', body), 422, 'invalid-body');
    expect(problem['errors']).toMatchObject([{ pointer }]);
  });
});

describe('what is no HTTP', () => {
  it.each([
    ['NONSENSE\r\n\r\n', 400],
    [`GET / HTTP/1.1\r\nhost: localhost\r\nx: ${'y'.repeat(20_000)}\r\n\r\n`, 431],
  ])('is answered with a problem document and the end of the connection', async (text, status) => {
    const socket = connect(Number(new URL(api.url).port), '127.0.0.1');
    socket.end(text);
    let answer = '';
    for await (const chunk of socket.setEncoding('utf8')) answer += chunk;
    const [head = '', body = ''] = answer.split('\r\n\r\n');
    expect(head).toMatch(new RegExp(`^HTTP/1.1 ${status} `));
    expect(head).toContain('content-type: application/problem+json');
    expect(JSON.parse(body)).toMatchObject({ type: '/problems/not-servable', status });
  });
});

describe('what never leaks', () => {
  it('a stored key that no schema names', async () => {
    const roll = await addRoll(api.store, { id: 'leaky-1' });
    await api.store.changeRoll('leaky-1', () => ({
      ...roll,
      secret: 'hidden',
      clearance: { ...roll.clearance, secret: 'hidden' },
    }));
    const text = await (await api.get('/v1/rolls/leaky-1')).text();
    expect(text).toContain('leaky-1');
    expect(text).not.toContain('hidden');
  });
});

async function statusUnderHost(path: string, host: string): Promise<number | undefined> {
  return new Promise((resolve, reject) => {
    // `fetch` does not let the host be set.
    const headers = { host, authorization: `Bearer ${TOKEN}` };
    request(api.url + path, { headers }, (response) => {
      response.resume();
      resolve(response.statusCode);
    })
      .on('error', reject)
      .end();
  });
}

import { describe, expect, it } from 'vitest';
import { makeToken } from './access/token-file.ts';
import { NOW, startTestApi, type TestApi, TOKEN } from './api.test-support.ts';

const MOST = 60;

/** The statuses of requests of one token, one after another. */
async function ask(api: TestApi, token: string, count: number): Promise<readonly Response[]> {
  const answers: Response[] = [];
  for (let times = 0; times < count; times += 1)
    answers.push(await fetch(`${api.url}/v1/rolls`, { headers: { authorization: `Bearer ${token}` } }));
  return answers;
}

describe('the limit of requests', () => {
  it('is counted for each token by itself, told with each answer, and explained when it is reached', async () => {
    await using api = await startTestApi({ requestsPerMinute: MOST });
    const answers = await ask(api, TOKEN, MOST + 1);
    expect(answers.map(({ status }) => status)).toEqual([...Array<number>(MOST).fill(200), 429]);
    expect(answers.slice(0, 2).map(({ headers }) => headers.get('ratelimit-remaining'))).toEqual(['59', '58']);
    const last = answers.at(-1);
    expect(Number(last?.headers.get('retry-after'))).toBeGreaterThan(0);
    expect(last?.headers.get('content-type')).toContain('application/problem+json');
    expect(await last?.json()).toMatchObject({ type: '/problems/too-many-requests', status: 429 });

    const { token } = await makeToken(api.folder, { name: 'another', scope: 'read', expiresAt: null }, NOW);
    expect((await ask(api, token, 1)).map(({ status }) => status)).toEqual([200]);
    // What needs no token still says that the service lives.
    expect((await fetch(`${api.url}/v1/health/live`)).status).toBe(200);
  });

  it('leaves a stream open that was opened before, which goes on to tell what happens', async () => {
    await using api = await startTestApi({ requestsPerMinute: MOST });
    const stop = new AbortController();
    const headers = { authorization: `Bearer ${TOKEN}` };
    const stream = await fetch(`${api.url}/v1/events`, { headers, signal: stop.signal });
    expect(stream.headers.get('ratelimit-limit')).toBe(String(MOST));
    expect((await ask(api, TOKEN, MOST)).at(-1)?.status).toBe(429);
    await api.store.publish([{ type: 'roll.clear', at: NOW, subject: 'wheel-1', sentence: 'It is clear.' }]);
    let told = '';
    for await (const chunk of stream.body ?? []) {
      told += Buffer.from(chunk).toString('utf8');
      if (told.includes('roll.clear')) break;
    }
    expect(told).toContain('It is clear.');
    stop.abort();
  });
});

describe('pages of other origins', () => {
  const PAGE = 'http://localhost:3000';
  const asking = {
    origin: PAGE,
    'access-control-request-method': 'GET',
    'access-control-request-headers': 'authorization',
  };

  it('can ask nothing unless the configuration allows their origin', async () => {
    await using api = await startTestApi();
    const preflight = await fetch(`${api.url}/v1/rolls`, { method: 'OPTIONS', headers: asking });
    const answer = await api.get('/v1/rolls', { origin: PAGE });
    for (const { headers } of [preflight, answer]) expect(headers.get('access-control-allow-origin')).toBeNull();
    expect(preflight.status).toBe(401);
  });

  // The Fetch standard, "CORS protocol": what a browser wants to see before it lets a page ask and read.
  it('of an allowed origin can ask and read, with a token and never with a cookie', async () => {
    await using api = await startTestApi({ allowOrigins: [PAGE] });
    const preflight = await fetch(`${api.url}/v1/rolls`, { method: 'OPTIONS', headers: asking });
    expect(preflight.status).toBe(204);
    expect(preflight.headers.get('access-control-allow-origin')).toBe(PAGE);
    expect(preflight.headers.get('access-control-allow-headers')).toContain('authorization');
    expect(preflight.headers.get('access-control-allow-credentials')).toBeNull();
    const answer = await api.get('/v1/rolls', { origin: PAGE });
    expect([answer.status, answer.headers.get('access-control-allow-origin')]).toEqual([200, PAGE]);
    expect((await fetch(`${api.url}/v1/rolls`, { headers: { origin: PAGE } })).status).toBe(401);
    const other = await api.get('/v1/rolls', { origin: 'http://localhost:3001' });
    expect(other.headers.get('access-control-allow-origin')).not.toBe('http://localhost:3001');
  });
});

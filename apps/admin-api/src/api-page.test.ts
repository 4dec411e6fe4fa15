import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasPageSession, openPageSession, SESSION_SECONDS } from './access/page-session.ts';
import { NOW, startTestApi, type TestApi, TOKEN } from './api.test-support.ts';

let folder: string;
let api: TestApi;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-page-'));
  api = await startTestApi({ page: folder });
});
afterAll(async () => {
  await api[Symbol.asyncDispose]();
  await rm(folder, { recursive: true });
});

describe('the status page', () => {
  it('that is not made yet is answered with what to do', async () => {
    const response = await fetch(`${api.url}/`);
    expect(response.status).toBe(404);
    expect(await response.text()).toContain('npm run build --workspace apps/board');
  });

  it('is served without a token, and may use nothing but the files and answers of this service', async () => {
    await mkdir(join(folder, 'assets'));
    await writeFile(join(folder, 'index.html'), '<!doctype html><title>Quayside</title>');
    await writeFile(join(folder, 'assets', 'index-aB3_.js'), 'export {};');
    await writeFile(join(folder, 'made-from.json'), '{}');
    const page = await fetch(`${api.url}/`);
    expect(page.status).toBe(200);
    expect(page.headers.get('content-type')).toContain('text/html');
    expect(page.headers.get('cache-control')).toBe('no-cache');
    // Content Security Policy Level 3 (W3C), section 6; 'unsafe-inline' and foreign places are nowhere in it.
    const policy = page.headers.get('content-security-policy') ?? '';
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'; style-src 'self'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toMatch(/unsafe|https?:|data:|\*/);
    const script = await fetch(`${api.url}/assets/index-aB3_.js`);
    expect([script.status, script.headers.get('content-type')]).toEqual([200, expect.stringContaining('javascript')]);
    expect(script.headers.get('cache-control')).toContain('immutable');
  });

  it.each([
    '/assets/none.js',
    '/assets/..%2findex.html',
    '/assets/%2e%2e%2fmade-from.json',
    '/assets/',
    '/assets/.hidden',
    '/made-from.json',
  ])('gives nothing else of its folder: %s', async (path) => {
    const response = await fetch(api.url + path);
    expect([401, 404]).toContain(response.status);
  });
});

async function signIn(): Promise<{ readonly cookie: string; readonly key: string; readonly setCookie: string }> {
  const response = await api.post('/v1/session');
  expect(response.status).toBe(201);
  const setCookie = response.headers.get('set-cookie') ?? '';
  const body: unknown = await response.json();
  expect(body).toEqual({ key: expect.any(String), until: '2026-03-31T10:00:00.000Z' });
  return { cookie: setCookie.split(';', 1)[0] ?? '', key: String((body as { key: unknown }).key), setCookie };
}
async function statusWith(headers: Record<string, string>): Promise<number> {
  return (await fetch(`${api.url}/v1/rolls`, { headers })).status;
}

describe('a sign-in of the page', () => {
  it('lets the page in by a cookie that no script can read and a key that no other server gets', async () => {
    const { cookie, key, setCookie } = await signIn();
    // RFC 6265bis, section 4.1.2, for what the attributes mean.
    expect(setCookie).toMatch(/; Path=\/v1; HttpOnly; SameSite=Strict; Max-Age=\d+$/);
    expect(setCookie + key).not.toContain(TOKEN);
    expect(await statusWith({ cookie: `a=b; ${cookie}`, 'quayside-page-key': key })).toBe(200);
    expect(await statusWith({ cookie })).toBe(401);
    expect(await statusWith({ 'quayside-page-key': key })).toBe(401);
    expect(await statusWith({ cookie, 'quayside-page-key': (await signIn()).key })).toBe(401);
    expect(await statusWith({ cookie: cookie.slice(0, -1), 'quayside-page-key': key })).toBe(401);
    expect(await statusWith({ cookie: cookie.replace('=1', '=2'), 'quayside-page-key': key })).toBe(401);
    expect(await statusWith({ cookie, 'quayside-page-key': key, authorization: 'Bearer wrong' })).toBe(401);
  });

  it('cannot prolong itself, and ends in the browser when it is signed out', async () => {
    const { cookie, key } = await signIn();
    const headers = { cookie, 'quayside-page-key': key };
    expect((await fetch(`${api.url}/v1/session`, { method: 'POST', headers })).status).toBe(401);
    const out = await fetch(`${api.url}/v1/session`, { method: 'DELETE', headers });
    expect([out.status, out.headers.get('set-cookie')]).toEqual([200, expect.stringContaining('Max-Age=0')]);
  });

  it('is refused to whoever does not know the token, and the token gets into no record', async () => {
    expect((await fetch(`${api.url}/v1/session`, { method: 'POST' })).status).toBe(401);
    const wrong = { authorization: 'Bearer wrong' };
    expect((await fetch(`${api.url}/v1/session`, { method: 'POST', headers: wrong })).status).toBe(401);
    await signIn();
    const record = await readFile(join(api.folder, 'audit.jsonl'), 'utf8');
    expect(record).toContain('POST /v1/session');
    expect(record).not.toContain(TOKEN);
  });

  it('ends after its time, and with the token that it was made from', () => {
    const now = Date.parse(NOW);
    const { cookie, key } = openPageSession(TOKEN, now);
    const request = { headers: { cookie: `quayside-session=${cookie}`, 'quayside-page-key': key } } as never;
    expect(hasPageSession(request, TOKEN, now + SESSION_SECONDS * 1000 - 1)).toBe(true);
    expect(hasPageSession(request, TOKEN, now + SESSION_SECONDS * 1000)).toBe(false);
    expect(hasPageSession(request, `${TOKEN.slice(1)}x`, now)).toBe(false);
  });
});

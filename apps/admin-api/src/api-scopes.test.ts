import { readFile, stat } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Scope } from './access/scope.ts';
import { listTokens, makeToken, revokeToken, tokenFile } from './access/token-file.ts';
import { NOW, startTestApi, type TestApi, TOKEN } from './api.test-support.ts';

let api: TestApi;
beforeAll(async () => {
  api = await startTestApi();
});
afterAll(async () => api[Symbol.asyncDispose]());

async function tokenOf(scope: Scope, expiresAt: string | null = null): Promise<string> {
  return (await makeToken(api.folder, { name: `for ${scope}`, scope, expiresAt }, NOW)).token;
}

async function ask(method: string, path: string, token: string | null): Promise<Response> {
  const response = await fetch(api.url + path, {
    method,
    headers: token === null ? {} : { authorization: `Bearer ${token}` },
    signal: AbortSignal.timeout(20_000),
  });
  // An event stream has no end.
  await response.body?.cancel();
  return response;
}

const Document = z.object({
  paths: z.record(
    z.string(),
    z.record(z.string(), z.looseObject({ security: z.array(z.record(z.string(), z.array(z.string()))).optional() })),
  ),
});

interface Operation {
  readonly method: string;
  readonly path: string;
  /** As the document says: public, or the scope that it takes. */
  readonly wants: string;
}

/** Every operation of the OpenAPI document, with names in the place of parameters that nothing has. */
async function operations(): Promise<readonly Operation[]> {
  const { paths } = Document.parse(await (await fetch(`${api.url}/openapi.json`)).json());
  return Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, { security = [{ token: ['?'] }] }]) => ({
      method: method.toUpperCase(),
      path: path.replaceAll(/\{[^}]+\}/g, 'none-such'),
      wants: security[0]?.['token']?.[0] ?? 'public',
    })),
  );
}

const RANK: Readonly<Record<string, number>> = { public: 0, read: 1, operate: 2, admin: 3 };

describe('the authorisation matrix', () => {
  it('every operation is open to those scopes that the document names, and to no other', async () => {
    const tokens = {
      none: null,
      read: await tokenOf('read'),
      operate: await tokenOf('operate'),
      admin: await tokenOf('admin'),
    };
    const all = await operations();
    expect(all.length).toBeGreaterThan(30);
    const wrong: string[] = [];
    for (const { method, path, wants } of all) {
      if (!(wants in RANK)) wrong.push(`${method} ${path} names no scope`);
      for (const [name, token] of Object.entries(tokens)) {
        const { status } = await ask(method, path, token);
        const isOpen = (RANK[name] ?? 0) >= (RANK[wants] ?? 0);
        const expected = isOpen ? 'open' : token === null ? '401' : '403';
        const found = status === 401 || status === 403 ? String(status) : 'open';
        if (found !== expected) wrong.push(`${method} ${path} with ${name}: ${status}, and it wants ${wants}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('looking takes read, changing takes operate, and the record of changes takes admin', async () => {
    const wants = new Map((await operations()).map(({ method, path, wants: scope }) => [`${method} ${path}`, scope]));
    expect([
      wants.get('GET /v1/rolls'),
      wants.get('POST /v1/rolls/none-such/retry'),
      wants.get('POST /v1/channels/none-such/test'),
      wants.get('GET /v1/audit'),
      wants.get('GET /v1/health/live'),
    ]).toEqual(['read', 'operate', 'operate', 'admin', 'public']);
  });
});

describe('a token', () => {
  it('is kept as a digest only, for the eyes of its owner', async () => {
    const token = await tokenOf('read');
    expect(await readFile(tokenFile(api.folder), 'utf8')).not.toContain(token.split('.')[1]);
    expect((await stat(tokenFile(api.folder))).mode & 0o777).toBe(0o600);
  });

  it('counts until it expires, and not in that moment', async () => {
    expect((await ask('GET', '/v1/rolls', await tokenOf('read', '2026-03-01T10:00:00.001Z'))).status).toBe(200);
    const expired = await ask('GET', '/v1/rolls', await tokenOf('read', NOW));
    expect([expired.status, expired.headers.get('www-authenticate')]).toEqual([
      401,
      'Bearer realm="quayside", error="invalid_token"',
    ]);
  });

  it('counts no more from the moment in which it is revoked', async () => {
    const token = await tokenOf('admin');
    expect((await ask('GET', '/v1/audit', token)).status).toBe(200);
    const [id = ''] = token.split('.');
    expect(await revokeToken(api.folder, id, NOW)).toMatchObject({ id, revokedAt: NOW });
    expect((await ask('GET', '/v1/audit', token)).status).toBe(401);
    expect((await listTokens(api.folder)).find((one) => one.id === id)?.revokedAt).toBe(NOW);
    expect(await revokeToken(api.folder, 'nosuchid', NOW)).toBeNull();
  });

  it.each([
    ['another secret under its id', (token: string) => `${token.split('.')[0]}.${TOKEN}`],
    ['its id alone', (token: string) => token.split('.')[0] ?? ''],
    ['a longer one', (token: string) => `${token}x`],
  ])('is not %s', async (_, forge) => {
    expect((await ask('GET', '/v1/rolls', forge(await tokenOf('read')))).status).toBe(401);
  });

  it('that allows too little says which scope it takes (RFC 6750, section 3.1)', async () => {
    const refused = await ask('POST', '/v1/rolls/none-such/retry', await tokenOf('read'));
    expect([refused.status, refused.headers.get('www-authenticate')]).toEqual([
      403,
      'Bearer realm="quayside", error="insufficient_scope", scope="operate"',
    ]);
  });

  it('signs a page in that may do what the token allows, until it is revoked', async () => {
    const token = await tokenOf('read');
    const response = await fetch(`${api.url}/v1/session`, {
      method: 'POST',
      headers: { authorization: `Bearer ${token}` },
    });
    const { key } = z.object({ key: z.string() }).parse(await response.json());
    const headers = {
      cookie: (response.headers.get('set-cookie') ?? '').split(';')[0] ?? '',
      'quayside-page-key': key,
    };
    const status = async (method: string, path: string): Promise<number> =>
      (await fetch(api.url + path, { method, headers })).status;
    expect([await status('GET', '/v1/rolls'), await status('POST', '/v1/rolls/none-such/retry')]).toEqual([200, 403]);
    await revokeToken(api.folder, token.split('.')[0] ?? '', NOW);
    expect(await status('GET', '/v1/rolls')).toBe(401);
  });
});

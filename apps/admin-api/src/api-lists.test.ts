import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startTestApi, type TestApi, TOKEN } from './api.test-support.ts';
import { fillWorld } from './api-world.test-support.ts';
import { type Operation, operationsOf, readDocument } from './openapi-document.test-support.ts';

let api: TestApi;
beforeAll(async () => {
  api = await startTestApi();
  await fillWorld(api);
});
afterAll(async () => api[Symbol.asyncDispose]());

type Row = Readonly<Record<string, unknown>>;

async function get(path: string): Promise<Record<string, unknown>> {
  const answer = await api.get(path);
  expect(answer.status, path).toBe(200);
  return (await answer.json()) as Record<string, unknown>;
}

async function rows(path: string, name: string): Promise<readonly Row[]> {
  return (await get(path))[name] as readonly Row[];
}

function propertiesOf(answer: Operation['responses'][string] | undefined): object {
  return answer?.content?.['application/json']?.schema?.['properties'] ?? {};
}

async function tagOf(path: string): Promise<string> {
  return (await api.get(path)).headers.get('etag') ?? '';
}

/** Asks for a change on the condition that the thing has a tag. */
async function change(path: string, tag: string): Promise<number> {
  const headers = { authorization: `Bearer ${TOKEN}`, 'if-match': tag };
  return (await fetch(api.url + path, { method: 'POST', headers })).status;
}

describe('lists', () => {
  it('that are given in pages take limit, cursor, and where an order can be chosen sort, by the document', async () => {
    const paged = operationsOf(await readDocument(api.url)).filter(
      ({ method, responses }) => method === 'GET' && 'next' in propertiesOf(responses['200']),
    );
    const offers = (wanted: string): readonly string[] =>
      paged.filter(({ parameters }) => parameters.some(({ name }) => name === wanted)).map((one) => one.operationId);
    // Events go on with `after`; copies and deliveries have one order that tells something.
    expect(paged.map((one) => one.operationId).filter((name) => !offers('cursor').includes(name))).toEqual([
      'listEvents',
    ]);
    expect(offers('limit')).toHaveLength(paged.length);
    expect(offers('fields')).toHaveLength(paged.length);
    expect(offers('sort')).toEqual([
      'listShoots',
      'listGroups',
      'listClips',
      'listShootFindings',
      'getProxyPlan',
      'listRolls',
      'listVolumes',
      'listFindings',
      'listRuns',
      'listChanges',
      'listTokens',
    ]);
  });

  it('are sorted as asked for, page by page', async () => {
    const first = await get('/v1/shoots/kiln-day/clips?sort=-recorder,path&limit=4');
    const second = await get(`/v1/shoots/kiln-day/clips?sort=-recorder,path&limit=4&cursor=${String(first['next'])}`);
    const paths = [first, second].flatMap((page) => (page['clips'] as readonly Row[]).map(({ path }) => path));
    const ofAll = ['wide', 'wheel', 'hands'].flatMap((name) => [`CLIPS/${name}-1.mov`, `CLIPS/${name}-2.mov`]);
    expect([paths, second['next']]).toEqual([ofAll, null]);
    expect((await api.get('/v1/rolls?sort=colour')).status).toBe(400);
  });

  it.each([
    ['/v1/rolls?recorder=hands', 'rolls', 1],
    ['/v1/volumes?standing=gone', 'volumes', 0],
    ['/v1/shoots?isOpen=true', 'shoots', 2],
    ['/v1/findings?code=FILE_EMPTY&shoot=kiln-day', 'findings', 3],
    ['/v1/findings?code=DISK_FULL', 'findings', 0],
  ])('are narrowed by %s', async (path, name, count) => {
    expect(await rows(path, name)).toHaveLength(count);
  });
});

describe('sparse fields', () => {
  it('are those asked for, of each row of a list or of one thing', async () => {
    expect(await get('/v1/rolls?fields=id,recorder&sort=id&limit=1')).toEqual({
      rolls: [{ id: 'hands-20260301-1a2b3c', recorder: 'hands' }],
      next: expect.any(String),
    });
    expect(await get('/v1/shoots/kiln-day?fields=name')).toEqual({ name: 'Kiln day' });
    expect(Object.keys((await rows('/v1/shoots/kiln-day/proxies?fields=state,proxy', 'clips'))[0] ?? {})).toContain(
      'state',
    );
  });

  it('that there are not are refused, with those that there are', async () => {
    const answer = await api.get('/v1/rolls?fields=id,colour');
    expect(answer.status).toBe(400);
    expect(await answer.json()).toMatchObject({
      errors: [{ pointer: '#/fields', detail: expect.stringContaining('clearance') }],
    });
  });
});

describe('entity tags (RFC 9110, sections 8.8.3 and 13.1)', () => {
  const ROLL = '/v1/rolls/wheel-20260301-1a2b3c';

  it('are strong, and the same only for the same content', async () => {
    const tag = await tagOf(ROLL);
    expect(tag).toMatch(/^"[^"]+"$/);
    expect(await tagOf(ROLL)).toBe(tag);
    expect(await tagOf(`${ROLL}?fields=id`)).not.toBe(tag);
  });

  it.each([
    ['the same tag', (tag: string) => tag, 304],
    ['one of several', (tag: string) => `"a", W/${tag}`, 304],
    ['any', () => '*', 304],
    ['another', () => '"a"', 200],
  ])('with If-None-Match of %s', async (_, header, status) => {
    const answer = await api.get('/v1/rolls', { 'if-none-match': header(await tagOf('/v1/rolls')) });
    expect([answer.status, (await answer.text()) === '']).toEqual([status, status === 304]);
    expect(answer.headers.get('etag')).toBe(await tagOf('/v1/rolls'));
    expect(answer.headers.get('cache-control')).toContain('no-cache');
  });

  it('are not given to files, streams and problems', async () => {
    expect(await tagOf('/v1/shoots/kiln-day/records/report.html')).toBe('');
    expect(await tagOf('/v1/rolls/none-such')).toBe('');
  });

  it('let a change be made only while the thing is as it was seen', async () => {
    const seen = await tagOf('/v1/shoots/throwing-day');
    expect(await change('/v1/shoots/throwing-day/close', '"a"')).toBe(412);
    expect((await get('/v1/shoots/throwing-day'))['closedAt']).toBeNull();
    expect(await change('/v1/shoots/throwing-day/close', seen)).toBe(200);
    expect(await change('/v1/shoots/throwing-day/close', seen)).toBe(412);
    expect(await change('/v1/shoots/throwing-day/close', '*')).toBe(200);
    expect(await change('/v1/shoots/none-such/close', seen)).toBe(404);
    // What has no tag cannot be held to one.
    expect(await change('/v1/rebuild', seen)).toBe(400);
  });
});

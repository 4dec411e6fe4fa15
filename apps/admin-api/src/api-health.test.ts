import { Validator } from '@seriousme/openapi-schema-validator';
import { describe, expect, it } from 'vitest';
import { startTestApi } from './api.test-support.ts';

describe('health', () => {
  it('says which processes give a sign of life', async () => {
    await using api = await startTestApi();
    expect(await (await api.get('/v1/health')).json()).toMatchObject({
      ok: false,
      redis: 'reachable',
      watcher: { alive: false },
      worker: { alive: false },
    });
    await api.store.beat('watcher', 60_000, '2 volumes');
    await api.store.beat('worker', 60_000, 'idle');
    expect(await (await api.get('/v1/health')).json()).toMatchObject({
      ok: true,
      watcher: { alive: true, said: '2 volumes' },
    });
  });
});

describe('when Redis is away', () => {
  // The bound is the promise that is tested: a screen must not wait for an answer that will not come.
  it.each([
    ['stopped', 'SIGTERM'],
    ['frozen, so that connections look alive', 'SIGSTOP'],
  ] as const)('every request is answered with 503 within two seconds (%s)', async (_name, signal) => {
    const api = await startTestApi();
    if (signal === 'SIGTERM') await api.redis.stop();
    else process.kill(api.redis.pid, signal);
    try {
      const paths = [
        '/v1/rolls',
        '/v1/rolls/wheel-1',
        '/v1/shoots',
        '/v1/steps',
        '/v1/volumes',
        '/v1/findings',

        '/v1/events',
        '/v1/events/list',
        '/v1/health',
      ];
      const answers = await Promise.all(
        paths.map(async (path) => {
          const startedAt = performance.now();
          const response = await api.get(path);
          return {
            status: response.status,
            isInTime: performance.now() - startedAt < 2_000,
            body: await response.json(),
          };
        }),
      );
      for (const [index, { status, isInTime, body }] of answers.entries()) {
        expect({ status, isInTime }, paths[index]).toEqual({ status: 503, isInTime: true });
        expect(body, paths[index]).toMatchObject(
          paths[index] === '/v1/health' ? { ok: false, redis: 'away' } : { type: '/problems/store-away' },
        );
      }
      const asked = await api.post('/v1/shoots', { name: 'Kiln' });
      expect(asked.status).toBe(503);
      expect((await fetch(`${api.url}/v1/health/live`)).status).toBe(200);
    } finally {
      if (signal === 'SIGSTOP') process.kill(api.redis.pid, 'SIGCONT');
      await api[Symbol.asyncDispose]();
    }
  });
});

describe('the OpenAPI document', () => {
  // Checked by @seriousme/openapi-schema-validator, which holds the OpenAPI Initiative's published schema of 3.1.
  it('is valid OpenAPI 3.1 and describes every route', async () => {
    await using api = await startTestApi();
    const document = JSON.parse(await (await fetch(`${api.url}/openapi.json`)).text());
    const validator = new Validator();
    expect(await validator.validate(document)).toEqual({ valid: true });
    expect(validator.version).toBe('3.1');
    expect(Object.keys(document.paths).toSorted()).toEqual([
      '/metrics',
      '/problems/{code}',
      '/v1/audit',
      '/v1/capacity',
      '/v1/channels',
      '/v1/channels/{name}/test',
      '/v1/codes',
      '/v1/codes/{code}',
      '/v1/deliveries',
      '/v1/destinations/{id}/verify',
      '/v1/events',
      '/v1/events/list',
      '/v1/findings',
      '/v1/health',
      '/v1/health/live',
      '/v1/plugins',
      '/v1/rebuild',
      '/v1/rolls',
      '/v1/rolls/{id}',
      '/v1/rolls/{id}/copies',
      '/v1/rolls/{id}/judge',
      '/v1/rolls/{id}/move',
      '/v1/rolls/{id}/retry',
      '/v1/runs',
      '/v1/runs/{id}',
      '/v1/runs/{id}/cancel',
      '/v1/runs/{id}/retry',
      '/v1/runs/{id}/skip',
      '/v1/session',
      '/v1/shoots',
      '/v1/shoots/{id}',
      '/v1/shoots/{id}/clips',
      '/v1/shoots/{id}/close',
      '/v1/shoots/{id}/findings',
      '/v1/shoots/{id}/findings/{finding}/acknowledge',
      '/v1/shoots/{id}/groups',
      '/v1/shoots/{id}/proxies',
      '/v1/shoots/{id}/records',
      '/v1/shoots/{id}/records/{folder}/{name}',
      '/v1/shoots/{id}/records/{name}',
      '/v1/shoots/{id}/retry',
      '/v1/shoots/{id}/verify',
      '/v1/steps',
      '/v1/volumes',
      '/v1/volumes/{key}',
      '/v1/volumes/{key}/assign',
    ]);
    expect(document.paths['/v1/rolls'].get.responses['4XX'].content).toHaveProperty('application/problem+json');
  });
});

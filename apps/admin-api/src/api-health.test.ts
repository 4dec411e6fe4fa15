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

describe('readiness', () => {
  it('needs no token, and says what the service still waits for', async () => {
    await using api = await startTestApi({ answerWithinMs: 3_000 });
    const ask = async (): Promise<unknown[]> => {
      const answer = await fetch(`${api.url}/v1/health/ready`);
      return [answer.status, await answer.json()];
    };
    await api.store.beat('watcher', 60_000, '2 volumes');
    expect(await ask()).toEqual([503, { ready: false, waitsFor: ['worker'] }]);
    await api.store.beat('worker', 60_000, 'idle');
    expect(await ask()).toEqual([200, { ready: true, waitsFor: [] }]);
    await api.redis.stop();
    expect(await ask()).toEqual([503, { ready: false, waitsFor: ['redis', 'watcher', 'worker'] }]);
    expect((await fetch(`${api.url}/v1/health/live`)).status).toBe(200);
  });
});

describe('when Redis is away', () => {
  // The bound is the promise that is tested: a screen must not wait for an answer that will not come.
  it.each([
    ['stopped', 'SIGTERM'],
    ['frozen, so that connections look alive', 'SIGSTOP'],
  ] as const)('every request is answered with 503 within two seconds (%s)', async (_name, signal) => {
    const api = await startTestApi({ answerWithinMs: 1_700 });
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

import { expect, it, onTestFinished } from 'vitest';
import { openStore } from './open-store.ts';
import { testRedis } from './redis-server.test-support.ts';

it('counts how long steps take, each time in one bucket, by how it ended', async () => {
  const store = await openStore((await testRedis()).address);
  onTestFinished(() => store.close());
  expect(await store.stepTimes()).toEqual([]);
  for (const milliseconds of [10, 10.4, 70_000, 1e9]) await store.noteStepTime('checksum', 'done', milliseconds);
  await store.noteStepTime('loudness/measure', 'failed', 2000);
  expect(await store.stepTimes()).toEqual([
    { step: 'checksum', outcome: 'done', counts: [1, 1, 0, 0, 0, 1, 0, 0, 1], sumSeconds: 1_000_070.02 },
    { step: 'loudness/measure', outcome: 'failed', counts: [0, 0, 0, 1, 0, 0, 0, 0, 0], sumSeconds: 2 },
  ]);
});

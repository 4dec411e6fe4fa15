import { expect, it, onTestFinished } from 'vitest';
import { openStore } from './open-store.ts';
import { testRedis } from './redis-server.test-support.ts';

it('a wish stands until it is dropped; one that is made again meanwhile is the first', async () => {
  const store = await openStore((await testRedis()).address);
  onTestFinished(() => store.close());
  const later = { kind: 'destination', id: 'primary', since: '2027-01-02T00:00:00.000Z' } as const;
  const first = { kind: 'shoot', id: 'primary', since: '2027-01-01T00:00:00.000Z' } as const;
  expect(await store.rereadWishes()).toEqual([]);
  for (const wish of [later, first]) expect(await store.wishReread(wish)).toEqual(wish);
  expect(await store.wishReread({ ...first, since: '2027-01-03T00:00:00.000Z' })).toEqual(first);
  expect(await store.rereadWishes()).toEqual([first, later]);
  await store.dropRereadWish(first);
  expect(await store.rereadWishes()).toEqual([later]);
});

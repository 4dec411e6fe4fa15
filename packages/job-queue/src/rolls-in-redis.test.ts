import { expect, it, onTestFinished } from 'vitest';
import { openStore } from './open-store.ts';
import { testRedis } from './redis-server.test-support.ts';
import { sampleRoll } from './samples.test-support.ts';

it('the list is the same while nothing changes; a shoot found in it is as new as it is, whoever changed it', async () => {
  const redis = await testRedis();
  const [store, other] = [await openStore(redis.address), await openStore(redis.address)];
  for (const one of [store, other]) onTestFinished(() => one.close());
  const inShoot = async (id: string): Promise<string[]> =>
    (await store.rollsOfShoot(id)).map((roll) => `${roll.id} ${roll.visit}`);
  const kiln = sampleRoll('kiln-1');
  await other.changeRoll('kiln-1', () => kiln);
  const list = await store.rolls();
  expect(await store.rolls()).toBe(list);
  expect(await inShoot(kiln.shootId)).toEqual(['kiln-1 1']);
  await other.changeRoll('kiln-1', () => ({ ...kiln, visit: 2 }));
  expect(await inShoot(kiln.shootId)).toEqual(['kiln-1 2']);
  await other.changeRoll('kiln-1', () => ({ ...kiln, shootId: 'elsewhere' }));
  expect([await inShoot(kiln.shootId), await inShoot('elsewhere')]).toEqual([[], ['kiln-1 1']]);
  await redis.raw.flushall();
  expect(await inShoot('elsewhere')).toEqual([]);
});

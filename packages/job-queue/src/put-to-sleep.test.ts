import { execFileSync } from 'node:child_process';
import { inflateSync } from 'node:zlib';
import type { Copy, FileEntry, MediaFacts, Roll } from '@quayside/shoot';
import { expect, it, onTestFinished } from 'vitest';
import { openStore } from './open-store.ts';
import { type TestRedis, testRedis } from './redis-server.test-support.ts';
import { NO_FACTS, sampleFile, sampleRoll } from './samples.test-support.ts';
import type { Store } from './store.ts';

const CLIPS = 80;
const always = (): boolean => true;

async function testStore(redis: TestRedis): Promise<Store> {
  const store = await openStore(redis.address);
  onTestFinished(() => store.close());
  return store;
}

const parcels: readonly (readonly FileEntry[])[] = Array.from({ length: CLIPS }, (_, index) => [
  sampleFile(`CLIPS/wheel-${index}.mov`),
]);

function copiesIn(state: 'written' | 'verified'): Record<string, Copy> {
  return Object.fromEntries(
    parcels.flat().map(({ path }, index): [string, Copy] => {
      const digests = { xxh128: String(index).padStart(32, '0') };
      return [
        path,
        state === 'written'
          ? { state, storedPath: path, digests }
          : { state, storedPath: path, digests, method: 'direct' },
      ];
    }),
  );
}

async function storedRoll(store: Store): Promise<Roll> {
  await store.saveParcels('wheel-1', 1, parcels);
  for (const name of ['primary', 'backup']) await store.noteCopies('wheel-1', name, copiesIn('verified'));
  await store.saveFacts(
    'wheel-1',
    parcels.flat().map((file) => ({ ...file, facts: factsWith('a reel') })),
  );
  return (await store.changeRoll('wheel-1', () => sampleRoll('wheel-1', CLIPS))).after;
}

function factsWith(reel: string): MediaFacts {
  return { ...NO_FACTS, reel };
}

const awakeIn = async (store: Store): Promise<string[]> => (await store.awakeRolls()).map(({ id }) => id);

it('a sleeping roll is read as before: its state, its files, its copies, their facts', async () => {
  const store = await testStore(await testRedis());
  const roll = await storedRoll(store);
  const all = async (): Promise<unknown> => [
    await store.copies('wheel-1'),
    await store.rollFiles(roll),
    await store.parcelFiles('wheel-1', 1, 7),
    await store.facts('wheel-1'),
  ];
  const before = await all();
  expect(await store.putToSleep('wheel-1', always)).toBe(true);
  expect(await all()).toEqual(before);
  expect(await store.rollFiles(roll)).toEqual(parcels.flat());
  expect(await store.roll('wheel-1')).toEqual(roll);
  expect(await store.rolls()).toEqual([roll]);
  await expect(store.parcelFiles('wheel-1', 2, 0)).rejects.toMatchObject({ code: 'PARCEL_UNKNOWN' });
});

it('it takes less than a tenth of the room, in what zlib reads again', async () => {
  const redis = await testRedis();
  const store = await testStore(redis);
  await storedRoll(store);
  const used = async (): Promise<number> => {
    const sizes = (await redis.raw.keys('quayside:*')).map((key) => redis.raw.memory('USAGE', key));
    return (await Promise.all(sizes)).reduce<number>((sum, size) => sum + (size ?? 0), 0);
  };
  const before = await used();
  await store.putToSleep('wheel-1', always);
  expect(await used()).toBeLessThan(before / 10);
  // RFC 1950: what lies there is no secret of ours.
  const packed = await redis.raw.getBuffer('quayside:sleeping:wheel-1');
  expect(JSON.parse(inflateSync(packed ?? Buffer.alloc(0)).toString())).toMatchObject({ visit: 1, parcels });
});

it('only rolls that sleep are left out of those awake, and every change wakes', async () => {
  const redis = await testRedis();
  const [store, other] = [await testStore(redis), await testStore(redis)];
  const roll = await storedRoll(store);
  await store.changeRoll('kiln-1', () => sampleRoll('kiln-1'));
  expect(await awakeIn(other)).toEqual(['kiln-1', 'wheel-1']);
  await store.putToSleep('wheel-1', always);
  expect(await awakeIn(other)).toEqual(['kiln-1']);
  await store.changeRoll('wheel-1', () => ({ ...roll, told: 'something' }));
  expect(await awakeIn(other)).toEqual(['kiln-1', 'wheel-1']);
  await store.putToSleep('wheel-1', always);
  await store.noteCopies('wheel-1', 'primary', { 'CLIPS/wheel-3.mov': { state: 'writing' } });
  expect(await awakeIn(other)).toEqual(['kiln-1', 'wheel-1']);
  await store.putToSleep('wheel-1', always);
  await store.saveFacts('wheel-1', [{ ...sampleFile('new'), facts: NO_FACTS }]);
  expect(await awakeIn(other)).toEqual(['kiln-1', 'wheel-1']);
  await store.putToSleep('wheel-1', always);
  await store.saveParcels('wheel-1', 2, [[sampleFile('new')]]);
  expect(await awakeIn(other)).toEqual(['kiln-1', 'wheel-1']);
});

it('what changes for a shoot wakes its rolls: a finding that was seen, a roll that leaves for another shoot', async () => {
  const store = await testStore(await testRedis());
  const roll = await storedRoll(store);
  const kiln = { ...sampleRoll('kiln-1'), shootId: 'another' };
  await store.saveParcels('kiln-1', 1, [[sampleFile('a')]]);
  await store.changeRoll('kiln-1', () => kiln);
  for (const id of ['kiln-1', 'wheel-1']) expect(await store.putToSleep(id, always)).toBe(true);
  await store.acknowledge(roll.shootId, { matter: 'm', note: '', by: 'operator', at: roll.openedAt });
  expect(await awakeIn(store)).toEqual(['wheel-1']);
  await store.putToSleep('wheel-1', always);
  await store.changeRoll('hands-1', () => sampleRoll('hands-1'));
  await store.changeRoll('hands-1', () => ({ ...sampleRoll('hands-1'), shootId: 'another' }));
  expect(await awakeIn(store)).toEqual(['hands-1', 'wheel-1']);
});

it('what is noted after it woke goes before what was packed, and is packed with it the next time', async () => {
  const store = await testStore(await testRedis());
  const roll = await storedRoll(store);
  const path = 'CLIPS/wheel-3.mov';
  for (let time = 0; time < 2; time += 1) {
    await store.putToSleep('wheel-1', always);
    await store.noteCopies('wheel-1', 'primary', { [path]: { state: 'failed', code: 'X', why: String(time) } });
    expect((await store.copies('wheel-1'))['primary']?.[path]).toMatchObject({ why: String(time) });
  }
  await store.putToSleep('wheel-1', always);
  await store.saveFacts('wheel-1', [{ ...sampleFile(path), facts: factsWith('another reel') }]);
  const reels = async (): Promise<Set<string | null>> =>
    new Set((await store.facts('wheel-1')).map(({ facts }) => facts.reel));
  expect(await reels()).toEqual(new Set(['a reel', 'another reel']));
  await store.putToSleep('wheel-1', always);
  expect(await reels()).toEqual(new Set(['a reel', 'another reel']));
  const copies = await store.copies('wheel-1');
  expect(copies['primary']?.[path]).toMatchObject({ why: '1' });
  expect(copies['backup']).toEqual(copiesIn('verified'));
  await store.saveParcels('wheel-1', 2, [[sampleFile('new')]]);
  expect(await store.parcelFiles('wheel-1', 2, 0)).toEqual([sampleFile('new')]);
  // A run of the visit before may still be under way.
  expect(await store.rollFiles(roll)).toEqual(parcels.flat());
});

it.each([
  ['a copy is noted', ['hset', 'quayside:copies:wheel-1', '["primary","late"]', '{"state":"writing"}']],
  ['the roll is changed', ['hset', 'quayside:roll:wheel-1', 'version', 'another']],
  ['Redis is lost', ['flushall']],
])('it stays awake, and nothing is lost, when %s in the very moment', async (_what, command) => {
  const redis = await testRedis();
  const store = await testStore(redis);
  await storedRoll(store);
  const path = redis.address.kind === 'socket' ? redis.address.path : '';
  const meanwhile = (...words: readonly string[]): void => void execFileSync('redis-cli', ['-s', path, ...words]);
  const slept = await store.putToSleep('wheel-1', () => {
    meanwhile(...command);
    // As `noteCopies` counts in the same transaction.
    if (command[1] === 'quayside:copies:wheel-1') meanwhile('hincrby', 'quayside:roll:wheel-1', 'notes', '1');
    return true;
  });
  expect(slept).toBe(false);
  expect(await redis.raw.exists('quayside:sleeping:wheel-1')).toBe(0);
});

it('a roll that may not sleep, is not known, or whose files are missing stays awake', async () => {
  const store = await testStore(await testRedis());
  await storedRoll(store);
  expect(await store.putToSleep('wheel-1', () => false)).toBe(false);
  expect(await store.putToSleep('wide-1', always)).toBe(false);
  await store.changeRoll('kiln-1', () => sampleRoll('kiln-1', 2));
  await store.saveParcels('kiln-1', 1, [[sampleFile('a')]]);
  expect(await store.putToSleep('kiln-1', always)).toBe(false);
  expect(await awakeIn(store)).toEqual(['kiln-1', 'wheel-1']);
});

it('the rolls of a volume and of a shoot are found among all, asleep or not, also when one has moved', async () => {
  const store = await testStore(await testRedis());
  const roll = await storedRoll(store);
  await store.changeRoll('wheel-2', () => ({ ...sampleRoll('wheel-2'), volume: roll.volume }));
  await store.changeRoll('kiln-1', () => sampleRoll('kiln-1'));
  await store.putToSleep('wheel-1', always);
  expect((await store.rollsOfVolume(roll.volume.key)).map(({ id }) => id)).toEqual(['wheel-1', 'wheel-2']);
  expect(await store.rollsOfVolume('unheard-of')).toEqual([]);
  await store.changeRoll('kiln-1', () => ({ ...sampleRoll('kiln-1'), shootId: 'another' }));
  expect((await store.rollsOfShoot(roll.shootId)).map(({ id }) => id)).toEqual(['wheel-1', 'wheel-2']);
  expect((await store.rollsOfShoot('another')).map(({ id }) => id)).toEqual(['kiln-1']);
});

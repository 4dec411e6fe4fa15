import type { MediaFacts } from '@quayside/shoot';
import { groupBySync, GroupingPolicy } from '@quayside/sync-grouping';
import { expect, it, onTestFinished } from 'vitest';
import { askForWork, wantedOfShoot } from './ask-for-work.ts';
import { clipsOfRolls } from './clips-of-rolls.ts';
import { openStore } from './open-store.ts';
import { testQueue } from './queue.test-support.ts';
import { testRedis } from './redis-server.test-support.ts';
import { sampleFile, sampleRoll } from './samples.test-support.ts';
import type { Store } from './store.ts';

const SHOOT = '2026-05-04';
const NOTHING: MediaFacts = {
  kind: 'other',
  container: null,
  durationMs: null,
  picture: null,
  startTimecode: null,
  sound: [],
  wave: null,
  device: { make: null, model: null, serial: null },
  reel: null,
  created: null,
  damage: [],
};

async function testStore(): Promise<Store> {
  const store = await openStore((await testRedis()).address);
  onTestFinished(() => store.close());
  return store;
}

it('facts are kept by path, whatever bytes its name is made of, and later ones replace earlier ones', async () => {
  const store = await testStore();
  // The second name holds a byte that is not UTF-8 (PEP 383: a lone surrogate); both must stay apart.
  const files = ['CLIPS/a.mov', 'CLIPS/\udcff.mov'].map((path) => ({ ...sampleFile(path), facts: NOTHING }));
  await store.saveFacts('wheel-1', files);
  expect(await store.facts('wheel-1')).toEqual(files);
  const reel = { ...NOTHING, reel: 'x'.repeat(5000) };
  await store.saveFacts('wheel-1', [{ ...sampleFile('CLIPS/a.mov'), facts: reel }]);
  expect((await store.facts('wheel-1')).map(({ facts }) => facts.reel?.length)).toEqual([5000, undefined]);
  expect(await store.facts('hands-1')).toEqual([]);
});

it('the clips of a roll are those of its files that are still what was looked into', async () => {
  const store = await testStore();
  const roll = (await store.changeRoll('wheel-1', () => sampleRoll('wheel-1', 1))).after;
  const [kept, changed] = [sampleFile('CLIPS/kept.mov'), sampleFile('CLIPS/changed.mov')];
  await store.saveParcels('wheel-1', 1, [[kept, { ...changed, sizeInBytes: changed.sizeInBytes + 1 }]]);
  await store.saveFacts(
    'wheel-1',
    [kept, changed].map((file) => ({ ...file, facts: NOTHING })),
  );
  expect((await clipsOfRolls(store, [roll])).map(({ id }) => id)).toEqual(['wheel-1/CLIPS/kept.mov']);
});

it('groups, what was done with them and who has seen what are kept by shoot', async () => {
  const store = await testStore();
  expect(await store.grouping(SHOOT)).toBeNull();
  expect(await store.shootProgress(SHOOT)).toEqual({ grouped: null, recorded: null, acknowledgements: 0 });
  const grouping = groupBySync([], GroupingPolicy.parse({}), { shootId: SHOOT, at: '2026-05-04T10:00:00.000Z' });
  await store.saveGrouping(SHOOT, grouping);
  await store.noteShootProgress(SHOOT, { grouped: 'one' });
  await store.noteShootProgress(SHOOT, { recorded: 'two' });
  const seen = { matter: 'CLIP_CUT_SHORT\u0000clip', note: '', by: 'operator', at: '2026-05-04T10:00:00.000Z' };
  await store.acknowledge(SHOOT, seen);
  await store.acknowledge(SHOOT, { ...seen, note: 'again' });
  expect(await store.grouping(SHOOT)).toEqual(grouping);
  expect(await store.shootProgress(SHOOT)).toEqual({ grouped: 'one', recorded: 'two', acknowledgements: 2 });
  expect(await store.acknowledgements(SHOOT)).toEqual({ [seen.matter]: { ...seen, note: 'again' } });
});

it('what a shoot wants is asked for again when the queue was lost, also when all its rolls sleep', async () => {
  const redis = await testRedis();
  const store = await openStore(redis.address);
  onTestFinished(() => store.close());
  const queue = await testQueue(redis);
  const away = { ...sampleRoll('wheel-1', 1), mount: null, judgementDue: 0, judged: 0 };
  await store.changeRoll('wheel-1', () => away);
  await store.saveParcels('wheel-1', 1, [[sampleFile('CLIPS/a.mov')]]);
  expect(await store.putToSleep('wheel-1', () => true)).toBe(true);
  expect((await wantedOfShoot(store, SHOOT)).map(({ step }) => step)).toEqual(['sync-grouping']);
  await askForWork({ store, queue });
  expect((await queue.counts()).waiting).toBeGreaterThan(0);
});

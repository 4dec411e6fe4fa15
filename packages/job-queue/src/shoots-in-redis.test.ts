import { factsState, matterToTell, NO_PROGRESS, planState, recordsState } from '@quayside/pipeline';
import { planProxies, ProxyPolicy } from '@quayside/proxy-planning';
import { groupBySync, GroupingPolicy } from '@quayside/sync-grouping';
import { expect, it, onTestFinished } from 'vitest';
import { askForWork, letRollsSleep, wantedOfShoot } from './ask-for-work.ts';
import { clipsOfRolls } from './clips-of-rolls.ts';
import { openStore } from './open-store.ts';
import { testQueue } from './queue.test-support.ts';
import { testRedis } from './redis-server.test-support.ts';
import { NO_FACTS, sampleFile, sampleRoll } from './samples.test-support.ts';
import type { Store } from './store.ts';

const SHOOT = '2026-05-04';
async function testStore(): Promise<Store> {
  const store = await openStore((await testRedis()).address);
  onTestFinished(() => store.close());
  return store;
}

it('facts are kept by path, whatever bytes its name is made of, and later ones replace earlier ones', async () => {
  const store = await testStore();
  // The second name holds a byte that is not UTF-8 (PEP 383: a lone surrogate); both must stay apart.
  const files = ['CLIPS/a.mov', 'CLIPS/\udcff.mov'].map((path) => ({ ...sampleFile(path), facts: NO_FACTS }));
  await store.saveFacts('wheel-1', files);
  expect(await store.facts('wheel-1')).toEqual(files);
  const reel = { ...NO_FACTS, reel: 'x'.repeat(5000) };
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
    [kept, changed].map((file) => ({ ...file, facts: NO_FACTS })),
  );
  expect((await clipsOfRolls(store, [roll])).map(({ id }) => id)).toEqual(['wheel-1/CLIPS/kept.mov']);
});

it('groups, what was done with them and who has seen what are kept by shoot', async () => {
  const store = await testStore();
  expect(await store.grouping(SHOOT)).toBeNull();
  expect(await store.shootProgress(SHOOT)).toEqual(NO_PROGRESS);
  const grouping = groupBySync([], GroupingPolicy.parse({}), { shootId: SHOOT, at: '2026-05-04T10:00:00.000Z' });
  await store.saveGrouping(SHOOT, grouping);
  await store.noteShootProgress(SHOOT, { grouped: 'one' });
  await store.noteShootProgress(SHOOT, { recorded: 'two' });
  const seen = { matter: 'CLIP_CUT_SHORT\u0000clip', note: '', by: 'operator', at: '2026-05-04T10:00:00.000Z' };
  await store.acknowledge(SHOOT, seen);
  await store.acknowledge(SHOOT, { ...seen, note: 'again' });
  expect(await store.grouping(SHOOT)).toEqual(grouping);
  expect(await store.shootProgress(SHOOT)).toEqual({
    ...NO_PROGRESS,
    grouped: 'one',
    recorded: 'two',
    acknowledgements: 2,
  });
  expect(await store.acknowledgements(SHOOT)).toEqual({ [seen.matter]: { ...seen, note: 'again' } });
});

it('a step over a shoot that failed is known until it is done, or somebody asks for it again', async () => {
  const store = await testStore();
  const failure = { code: 'DESTINATION_MISSING', sentence: 'It is away.', retry: 'destination' } as const;
  await store.noteShootFailure(SHOOT, 'records', failure);
  await store.noteShootFailure(SHOOT, 'sync-grouping', failure);
  expect((await store.shootProgress(SHOOT)).failed).toEqual({ records: failure, 'sync-grouping': failure });
  await store.noteShootProgress(SHOOT, { grouped: 'one' });
  expect(await store.shootProgress(SHOOT)).toMatchObject({ grouped: 'one', failed: { records: failure } });
  expect(await store.forgetShootFailure(SHOOT, 'records')).toBe(true);
  expect(await store.forgetShootFailure(SHOOT, 'records')).toBe(false);
  expect(await store.shootProgress(SHOOT)).not.toHaveProperty('failed');
});

it('what a shoot wants is asked for again when the queue was lost, and its rolls sleep only when it wants nothing', async () => {
  const redis = await testRedis();
  const store = await openStore(redis.address);
  onTestFinished(() => store.close());
  const queue = await testQueue(redis);
  const sealed = {
    standing: 'taking',
    failure: null,
    sealedGeneration: 1,
    sealAttempt: 0,
    readBackAt: null,
    reread: null,
  } as const;
  const away = { ...sampleRoll('wheel-1', 1), mount: null, destinations: { primary: sealed, backup: sealed } };
  await store.changeRoll('wheel-1', () => ({ ...away, told: matterToTell(away)?.matter ?? null }));
  await store.saveParcels('wheel-1', 1, [[sampleFile('CLIPS/a.mov')]]);
  const awake = async (): Promise<number> => {
    await letRollsSleep(store);
    return (await store.awakeRolls()).length;
  };
  expect((await wantedOfShoot(store, SHOOT)).map(({ step }) => step)).toEqual(['sync-grouping']);
  for (const _ of ['asked for', 'asked for again']) {
    expect(await awake()).toBe(1);
    await askForWork({ store, queue });
    expect((await queue.counts()).waiting).toBe(1);
    await queue.clear();
  }
  const rolls = await store.rollsOfShoot(SHOOT);
  await store.noteShootProgress(SHOOT, { grouped: factsState(rolls) });
  expect((await wantedOfShoot(store, SHOOT)).map(({ step }) => step)).toEqual(['records']);
  expect(await awake()).toBe(1);
  await store.noteShootProgress(SHOOT, { recorded: recordsState(rolls, await store.shootProgress(SHOOT)) });
  expect(await awake()).toBe(0);
  // A process that ends right after an acknowledgement leaves it to the next look.
  await store.acknowledge(SHOOT, { matter: 'm', note: '', by: 'operator', at: '2026-05-04T10:00:00.000Z' });
  expect((await store.awakeRolls()).length).toBe(1);
});

it('a plan of proxies is kept, and another policy wakes what slept and wants a new one', async () => {
  const store = await testStore();
  const plan = {
    plannedAt: '2026-05-04T10:00:00.000Z',
    changes: [],
    plan: planProxies([], ProxyPolicy.parse({}), { groups: [], measured: [], space: null }),
  };
  expect(await store.proxyPlan(SHOOT)).toBeNull();
  await store.saveProxyPlan(SHOOT, plan);
  expect(await store.proxyPlan(SHOOT)).toEqual(plan);

  const sealed = {
    standing: 'taking',
    failure: null,
    sealedGeneration: 1,
    sealAttempt: 0,
    readBackAt: null,
    reread: null,
  } as const;
  const away = { ...sampleRoll('wheel-1', 1), mount: null, destinations: { primary: sealed, backup: sealed } };
  const roll = { ...away, told: matterToTell(away)?.matter ?? null };
  await store.changeRoll('wheel-1', () => roll);
  await store.saveParcels('wheel-1', 1, [[sampleFile('CLIPS/a.mov')]]);
  await store.noteShootProgress(SHOOT, { grouped: factsState([roll]) });
  await store.noteShootProgress(SHOOT, { recorded: recordsState([roll], await store.shootProgress(SHOOT)) });
  await letRollsSleep(store);
  expect(await store.awakeRolls()).toEqual([]);

  expect(await store.notePlanning(null)).toBe(false);
  expect(await store.notePlanning('policy')).toBe(true);
  expect(await store.notePlanning('policy')).toBe(false);
  expect((await store.awakeRolls()).length).toBe(1);
  expect((await wantedOfShoot(store, SHOOT)).map(({ step }) => step)).toEqual(['proxy-planning']);
  await store.noteShootProgress(SHOOT, { planned: planState(await store.shootProgress(SHOOT)) });
  expect((await wantedOfShoot(store, SHOOT)).map(({ step }) => step)).toEqual(['records']);
  await store.noteShootProgress(SHOOT, { recorded: recordsState([roll], await store.shootProgress(SHOOT)) });
  expect(await wantedOfShoot(store, SHOOT)).toEqual([]);
  await store.noteProxyFiled(SHOOT);
  expect((await wantedOfShoot(store, SHOOT)).map(({ step }) => step)).toEqual(['records']);
  await store.noteShootProgress(SHOOT, { recorded: recordsState([roll], await store.shootProgress(SHOOT)) });
  for (const results of ['', 'what plugins gave']) {
    expect(await wantedOfShoot(store, SHOOT)).toEqual([]);
    await store.noteGuestResults(SHOOT, results);
  }
  expect((await wantedOfShoot(store, SHOOT)).map(({ step }) => step)).toEqual(['records']);
  expect(await store.notePlanning(null)).toBe(true);
  expect(await store.shootProgress(SHOOT)).toMatchObject({ planning: null });
});

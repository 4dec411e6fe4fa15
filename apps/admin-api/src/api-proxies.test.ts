import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { planState } from '@quayside/pipeline';
import { Capacity, planProxies, ProxyPolicy } from '@quayside/proxy-planning';
import type { Clip, MediaFacts } from '@quayside/shoot';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ProxiesAnswer } from './answers/proxies-answer.ts';
import { addRoll, NOW, startTestApi, type TestApi, volume } from './api.test-support.ts';

const SHOOT = '2026-03-01';

const FACTS: MediaFacts = {
  kind: 'picture',
  container: 'mov',
  durationMs: 10_000,
  picture: {
    codec: 'ProRes',
    profile: 'LT',
    width: 3840,
    height: 2160,
    pixelAspect: null,
    rate: { numerator: 25, denominator: 1 },
    isVariableRate: false,
    frameCount: 250,
    scan: 'progressive',
    bitDepth: 10,
    chroma: '4:2:2',
    colour: { primaries: null, transfer: null, matrix: null },
  },
  startTimecode: '10:00:00:00',
  sound: [],
  wave: null,
  device: { make: null, model: null, serial: null },
  reel: null,
  created: null,
  damage: [],
};

const CLIPS = ['a.mov', 'b.mov', 'c.wav'].map((path, index): Clip => ({
  id: `wheel-1/${path}`,
  rollId: 'wheel-1',
  path,
  recorder: index === 1 ? 'hands' : 'wheel',
  role: 'camera',
  sizeInBytes: 1000,
  modifiedAt: NOW,
  facts: path.endsWith('.wav') ? { ...FACTS, kind: 'sound', picture: null } : FACTS,
}));

let api: TestApi;
beforeAll(async () => {
  api = await startTestApi();
  await api.store.saveShoot({ id: SHOOT, name: 'Pottery class', openedAt: NOW, closedAt: null, named: false });
});
afterAll(() => api[Symbol.asyncDispose]());

async function proxies(query = ''): Promise<ProxiesAnswer> {
  const answer = await api.get(`/v1/shoots/${SHOOT}/proxies${query}`);
  expect(answer.status).toBe(200);
  return ProxiesAnswer.parse(await answer.json());
}

describe('the plan of proxies', () => {
  it('is said not to be there until it is made', async () => {
    expect(await proxies()).toMatchObject({ plannedAt: null, totals: null, clips: [] });
    expect((await api.get('/v1/shoots/nowhere/proxies')).status).toBe(404);
  });

  it('is given with totals and clip by clip, in the order of the work, and page by page', async () => {
    const plan = planProxies(CLIPS, ProxyPolicy.parse({}), { groups: [], measured: [], space: null });
    await api.store.saveProxyPlan(SHOOT, { plannedAt: NOW, changes: [{ sentence: 'All is new.', clipIds: [] }], plan });
    const answer = await proxies();
    expect(answer).toMatchObject({ plannedAt: NOW, totals: { planned: { count: 2 }, notNeededCount: 1 } });
    expect(answer.changes.map(({ sentence }) => sentence)).toEqual(['All is new.']);
    expect(answer.clips).toEqual(plan.clips);
    const first = await proxies('?limit=2');
    expect([...first.clips, ...(await proxies(`?limit=2&cursor=${first.next}`)).clips]).toEqual(plan.clips);
    expect((await proxies('?state=planned&recorder=hands')).clips.map(({ path }) => path)).toEqual(['b.mov']);
  });

  it('says whether it is of the policy in force', async () => {
    await api.store.notePlanning('policy');
    expect((await proxies()).isCurrent).toBe(false);
    await api.store.noteShootProgress(SHOOT, { planned: planState(await api.store.shootProgress(SHOOT)) });
    expect((await proxies()).isCurrent).toBe(true);
  });
});

type Told = Parameters<TestApi['store']['publish']>[0][number];

function tell(type: Told['type'], at: string): Told {
  return { type, at, subject: 'wheel-1', sentence: '' };
}

const FORMAT = 'format=prores-422-hq/3840x2160/25/0';

async function ask(query: string): Promise<Capacity> {
  const answer = await api.get(`/v1/capacity?${query}`);
  expect(answer.status).toBe(200);
  return Capacity.parse(await answer.json());
}

describe('the capacity', () => {
  it('of a shoot is worked out for drives of a size', async () => {
    const { bytes, recorders, fits } = await ask(`${FORMAT}&recorders=4&hours=2&drive=1000000000000`);
    // 4 x 737 Mb/s x 2 h are 2653.2 GB by the publisher's table, and one hundredth for the container.
    expect(bytes / 1.01 / 1e9).toBeCloseTo(2653.2, -1);
    expect(recorders.map(({ name, isEnough }) => `${name} ${isEnough}`)).toEqual([
      'wheel true',
      'recorder-2 true',
      'recorder-3 true',
      'recorder-4 true',
    ]);
    expect(fits).toBeNull();
  });

  it('knows what is free on connected drives and at destinations, and claims nothing of those that are away', async () => {
    await api.store.saveVolume(volume({ recorder: 'wheel' }));
    const marker = { format: 1, id: '2f0c1a9e-6a0b-4a0e-9d5e-0d3b3c1f7a11', name: 'primary', createdAt: NOW };
    await mkdir(join(api.folder, 'primary'));
    await writeFile(join(api.folder, 'primary', '.quayside-destination.json'), JSON.stringify(marker));
    const { recorders, destinations, cautions } = await ask(`${FORMAT}&hours=0.1`);
    expect(recorders).toMatchObject([{ name: 'wheel', driveFreeBytes: 60_000_000_000, isEnough: true }]);
    expect(destinations.map(({ name, freeBytes }) => [name, freeBytes === null])).toEqual([
      ['primary', false],
      ['backup', true],
    ]);
    expect(cautions).toEqual([expect.stringMatching(/^Destination backup is away/)]);
  });

  it('learns from how fast rolls were taken in', async () => {
    expect((await ask(`${FORMAT}&hours=1`)).ingestSeconds.basis).toBe('never measured here');
    await addRoll(api.store, {});
    await api.store.publish([
      tell('roll.listed', '2026-03-01T10:00:00.000Z'),
      tell('roll.clear', '2026-03-01T10:00:20.000Z'),
    ]);
    const { ingestSeconds, bytes } = await ask(`${FORMAT}&hours=1`);
    // 4 GB in 20 s.
    expect(ingestSeconds).toMatchObject({ expected: bytes / 200_000_000, basis: 'measured here' });
  });

  it('is refused with what is wrong when it cannot be understood', async () => {
    const answer = await api.get('/v1/capacity?hours=1&format=prores/UHD/25');
    expect(answer.status).toBe(400);
    expect(await answer.json()).toMatchObject({ detail: expect.stringContaining('"uhd" is no size') });
    expect((await api.get(`/v1/capacity?${FORMAT}&hours=1&recorders=a/b`)).status).toBe(400);
  });
});

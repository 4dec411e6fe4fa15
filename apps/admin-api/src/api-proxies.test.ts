import { createHash } from 'node:crypto';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { planState } from '@quayside/pipeline';
import { Capacity, planProxies, ProxyPolicy } from '@quayside/proxy-planning';
import type { Clip, GuestRunRecord, MediaFacts, PluginStanding } from '@quayside/shoot';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ProxiesAnswer } from './answers/proxies-answer.ts';
import { addRoll, NOW, startTestApi, type TestApi, TOKEN, volume } from './api.test-support.ts';

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
    expect(answer.clips).toMatchObject(plan.clips);
    const first = await proxies('?limit=2');
    expect([...first.clips, ...(await proxies(`?limit=2&cursor=${first.next}`)).clips]).toMatchObject(plan.clips);
    expect((await proxies('?state=planned&recorder=hands')).clips.map(({ path }) => path)).toEqual(['b.mov']);
  });

  it('says whether it is of the policy in force', async () => {
    await api.store.notePlanning('policy');
    expect((await proxies()).isCurrent).toBe(false);
    await api.store.noteShootProgress(SHOOT, { planned: planState(await api.store.shootProgress(SHOOT)) });
    expect((await proxies()).isCurrent).toBe(true);
  });
});

async function order(what: string, body?: object, headers: Record<string, string> = {}): Promise<Response> {
  return fetch(`${api.url}/v1/shoots/${SHOOT}/proxies/${what}`, {
    method: 'POST',
    headers: { authorization: `Bearer ${TOKEN}`, 'content-type': 'application/json', ...headers },
    body: JSON.stringify(body ?? {}),
  });
}

async function problemOf(answer: Response): Promise<string> {
  return `${answer.status} ${((await answer.json()) as { type: string }).type}`;
}

describe('the plan of proxies, where approval is asked for,', () => {
  const plan = planProxies(CLIPS, ProxyPolicy.parse({}), { groups: [], measured: [], space: null });
  const fewer = planProxies(CLIPS.slice(0, 1), ProxyPolicy.parse({}), { groups: [], measured: [], space: null });
  beforeAll(async () => {
    await api.store.saveProxyPlan(SHOOT, { plannedAt: NOW, changes: [], plan: fewer });
  });

  it('waits until somebody approves the plan that they looked at, and tells who did', async () => {
    expect((await proxies()).standing).toEqual({ state: 'asked', said: null, changes: [] });
    expect(await problemOf(await order('render'))).toBe('409 /problems/plan-not-approved');
    const old = { plannedAt: '2026-02-28T10:00:00.000Z' };
    expect(await problemOf(await order('approve', old))).toBe('409 /problems/plan-moved-on');
    const by = { 'quayside-operator': 'the producer' };
    const approved = await order('approve', { plannedAt: NOW, note: 'Go.' }, by);
    const said = { by: 'the producer', note: 'Go.', at: NOW };
    expect(await approved.json()).toEqual({ state: 'approved', said, changes: [] });
    expect((await proxies()).standing).toMatchObject({ state: 'approved', said });
    const audit = await readFile(join(api.folder, 'audit.jsonl'), 'utf8');
    expect(audit.split('\n').filter((line) => line.includes('/proxies/approve') && line.includes('200'))).toHaveLength(
      1,
    );
  });

  it('has to be approved anew when it is another plan, and says what differs', async () => {
    await api.store.saveProxyPlan(SHOOT, { plannedAt: NOW, changes: [], plan });
    const { standing } = await proxies();
    expect(standing).toMatchObject({ state: 'asked', said: { by: 'the producer' } });
    expect(standing?.changes[0]?.sentence).toBe('hands b.mov: new, gets prores-422-proxy 1920x1080.');
    expect((await order('approve')).status).toBe(200);
    expect((await proxies()).standing).toMatchObject({ state: 'approved', changes: [] });
  });

  it('is held and let go once for each idempotency key', async () => {
    const key = { 'idempotency-key': 'hold-once' };
    const [first, again] = [await order('hold', {}, key), await order('hold', {}, key)];
    expect(await again.text()).toBe(await first.text());
    const held = (await api.store.eventsAfter('0', 1000)).filter(({ type }) => type === 'shoot.held');
    expect(held).toHaveLength(1);
    expect((await proxies()).standing?.state).toBe('held');
    expect((await order('approve')).status).toBe(200);
  });

  it('is made anew when somebody asks', async () => {
    expect((await order('plan')).status).toBe(202);
    expect((await proxies()).isCurrent).toBe(false);
    expect(await problemOf(await order('approve'))).toBe('409 /problems/plan-moved-on');
    await api.store.noteShootProgress(SHOOT, { planned: planState(await api.store.shootProgress(SHOOT)) });
  });

  it('shows each clip how far its proxy is; those that were stopped are made again, those under way are stopped', async () => {
    await api.store.savePlugins([RENDERER]);
    const stateOf = async (): Promise<readonly string[]> =>
      (await proxies()).clips.map(({ rendering: { state, fraction } }) => `${state} ${fraction}`);
    expect(await stateOf()).toEqual(['waiting null', 'waiting null', 'not-needed null']);
    await api.store.saveGuestRun({
      ...renderRun('wheel-1/a.mov'),
      state: 'running',
      progress: { fraction: 0.5, text: null, secondsLeft: null },
    });
    await api.store.saveGuestRun({ ...renderRun('wheel-1/b.mov'), state: 'cancelled', why: 'A person stopped it.' });
    expect(await stateOf()).toEqual(['rendering 0.5', 'cancelled null', 'not-needed null']);
    expect((await proxies('?rendering=cancelled')).clips.map(({ path }) => path)).toEqual(['b.mov']);
    expect(await problemOf(await order('render', { clips: ['wheel-1/c.wav'] }))).toBe(
      '409 /problems/proxy-not-planned',
    );
    expect(await (await order('render')).json()).toMatchObject({ runs: [renderRun('wheel-1/b.mov').id] });
    expect(await (await order('cancel')).json()).toMatchObject({ runs: [renderRun('wheel-1/a.mov').id] });
    expect(await api.store.takeGuestOrders()).toEqual(
      new Map([
        [renderRun('wheel-1/b.mov').id, 'retry'],
        [renderRun('wheel-1/a.mov').id, 'cancel'],
      ]),
    );
    expect((await proxies()).standing).toMatchObject({ state: 'held', said: { note: 'Stopped.' } });
  });
});

const RENDERER: PluginStanding = {
  use: './plugins/proxy-render',
  isOn: true,
  grants: ['child-processes'],
  plugin: {
    apiVersion: 1,
    name: 'proxy-render',
    version: '2.0.0',
    description: null,
    steps: [
      {
        name: 'render',
        scope: 'clip',
        description: null,
        after: ['proxy-planning'],
        asks: ['child-processes'],
        secrets: [],
        limits: { seconds: 600, memoryMb: 256, programsMb: 1024, outputMb: 100, parallel: 1 },
        makesWay: true,
      },
    ],
  },
  failure: null,
};

function renderRun(clipId: string): GuestRunRecord {
  return {
    id: createHash('sha256').update(clipId).digest('hex').slice(0, 16),
    step: 'proxy-render/render',
    version: '2.0.0',
    subject: { kind: 'clip', id: clipId },
    shootId: SHOOT,
    rollId: 'wheel-1',
    state: 'waiting',
    why: 'It has not run yet.',
    fingerprint: { version: '', config: '', subject: '', outputs: '' },
    tries: 1,
    failure: null,
    outputDigest: '',
    findings: [],
    filed: null,
    progress: null,
    startedAt: NOW,
    endedAt: null,
    tookMs: null,
    output: null,
    files: [],
    log: { head: [], droppedLines: 0, tail: [] },
  };
}

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

import type { GuestRunRecord } from '@quayside/shoot';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { z } from 'zod';
import { NOW, startTestApi, type TestApi } from './api.test-support.ts';

const SHOOT = '2026-03-01';
const Page = z.object({ runs: z.array(z.looseObject({ id: z.string() })), next: z.string().nullable() });

const run = (place: number, change: Partial<GuestRunRecord> = {}): GuestRunRecord => ({
  id: String(place).padStart(16, '0'),
  step: 'loudness/measure',
  version: '1',
  subject: { kind: 'clip', id: `wheel-1/CLIPS/${place}.mov` },
  shootId: SHOOT,
  rollId: 'wheel-1',
  state: 'done',
  why: 'It has not run yet.',
  fingerprint: { version: '1', config: 'c', subject: 's', outputs: 'o' },
  tries: 1,
  failure: null,
  outputDigest: 'd',
  findings: [],
  filed: null,
  progress: null,
  startedAt: `2026-03-01T10:00:0${place}.000Z`,
  endedAt: `2026-03-01T10:00:0${place}.500Z`,
  tookMs: 500,
  output: { peak: -1 },
  files: [],
  log: { head: [{ at: NOW, level: 'info', text: 'begun' }], droppedLines: 0, tail: [] },
  ...change,
});

const FAILURE = {
  code: 'PLUGIN_THREW',
  sentence: 'Step "measure" of plugin "loudness" failed.',
  retry: 'later',
} as const;
const SILENT = {
  code: 'loudness/SILENT',
  severity: 'warning',
  subject: { kind: 'clip', id: 'wheel-1/CLIPS/0.mov' },
  why: 'It is silent.',
  remedy: 'Listen.',
  at: NOW,
} as const;

let api: TestApi;
beforeAll(async () => {
  api = await startTestApi();
  await api.store.saveShoot({ id: SHOOT, name: SHOOT, openedAt: NOW, closedAt: null, named: false });
  const runs = [
    run(0, { findings: [SILENT] }),
    run(1),
    run(2, { state: 'failed', failure: FAILURE }),
    run(3, { state: 'running', endedAt: null }),
    run(4, { step: 'sheet/draw', subject: { kind: 'shoot', id: SHOOT }, rollId: null }),
  ];
  for (const one of runs) await api.store.saveGuestRun(one);
});
afterAll(() => api[Symbol.asyncDispose]());

async function idsAt(path: string): Promise<{ readonly ids: readonly number[]; readonly next: string | null }> {
  const { runs, next } = Page.parse(await (await api.get(path)).json());
  return { ids: runs.map(({ id }) => Number(id)), next };
}

it('runs are listed newest first, in pages, and by shoot, step and state', async () => {
  const first = await idsAt('/v1/runs?limit=3');
  expect(first.ids).toEqual([4, 3, 2]);
  expect(await idsAt(`/v1/runs?limit=3&cursor=${first.next}`)).toEqual({ ids: [1, 0], next: null });
  expect((await idsAt('/v1/runs?state=failed')).ids).toEqual([2]);
  expect((await idsAt(`/v1/runs?step=sheet/draw&shoot=${SHOOT}`)).ids).toEqual([4]);
  expect((await idsAt('/v1/runs?shoot=2026-03-02')).ids).toEqual([]);
});

it('one run is shown whole, with its output and log', async () => {
  expect(await (await api.get(`/v1/runs/${run(1).id}`)).json()).toEqual({ ...run(1), waits: null });
  expect((await api.get('/v1/runs/ffffffffffffffff')).status).toBe(404);
});

it('what waits has a row with the reason, also where nothing was made yet, and what failed says when it is tried again', async () => {
  const { id, step, version, subject, rollId } = run(2);
  const again = { why: 'It failed and is tried again after a pause.', notBefore: '2026-03-01T10:02:00.000Z' };
  const proof = { why: 'It waits until roll kiln-1 is proven.', notBefore: null };
  const fresh = { id: run(7).id, step, version, subject: { kind: 'roll', id: 'kiln-1' }, rollId: 'kiln-1' } as const;
  await api.store.saveGuestWaits(SHOOT, [
    { id, step, version, subject, rollId, ...again },
    { ...fresh, ...proof },
  ]);
  const { runs } = Page.parse(await (await api.get('/v1/runs?state=waiting')).json());
  expect(runs).toMatchObject([
    { id, state: 'failed', waits: again },
    { ...fresh, state: 'waiting', why: proof.why, waits: proof },
  ]);
  expect((await idsAt('/v1/runs')).ids).toEqual([4, 3, 2, 1, 0, 7]);
  expect(await (await api.get(`/v1/runs/${fresh.id}`)).json()).toMatchObject({
    state: 'waiting',
    waits: proof,
    output: null,
  });
  expect(await (await api.get(`/v1/runs/${id}`)).json()).toMatchObject({ state: 'failed', waits: again });
  expect((await api.post(`/v1/runs/${fresh.id}/skip`)).status).toBe(202);
  expect(await api.store.takeGuestOrders()).toEqual(new Map([[fresh.id, 'skip']]));
  await api.store.saveGuestWaits(SHOOT, []);
});

it('what steps found stands among the findings of the shoot, and so does that one failed', async () => {
  const answer: unknown = await (await api.get(`/v1/shoots/${SHOOT}/findings`)).json();
  const { findings } = z.object({ findings: z.array(z.looseObject({ code: z.string() })) }).parse(answer);
  expect(findings.toSorted((one, other) => (one.code < other.code ? 1 : -1))).toMatchObject([
    { code: 'loudness/SILENT', clipIds: ['wheel-1/CLIPS/0.mov'], rollId: 'wheel-1' },
    { code: 'PLUGIN_THREW', why: FAILURE.sentence },
  ]);
});

it.each([
  { order: 'retry', place: 1, status: 409, kind: 'run-not-failed' },
  { order: 'retry', place: 3, status: 409, kind: 'run-under-way' },
  { order: 'cancel', place: 1, status: 409, kind: 'run-not-under-way' },
  { order: 'skip', place: 9, status: 404, kind: 'run-unknown' },
])('a $order of run $place is refused with $status', async ({ order, place, status, kind }) => {
  const answer = await api.post(`/v1/runs/${run(place).id}/${order}`);
  expect(answer.status).toBe(status);
  expect(await answer.json()).toMatchObject({ type: `/problems/${kind}` });
  expect(await api.store.takeGuestOrders()).toEqual(new Map());
});

it.each([
  ['retry', 2],
  ['cancel', 3],
  ['skip', 1],
])('a %s of run %i is handed on to the process that runs guests', async (order, place) => {
  expect((await api.post(`/v1/runs/${run(place).id}/${order}`)).status).toBe(202);
  expect(await api.store.takeGuestOrders()).toEqual(new Map([[run(place).id, order]]));
});

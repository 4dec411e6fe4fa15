import type { RollEvent } from '@quayside/pipeline';
import type { Failure } from '@quayside/shoot';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { addRoll, FAILED_AT_BACKUP, NOW, startTestApi, TOKEN, type TestApi } from './api.test-support.ts';

let api: TestApi;
beforeEach(async () => {
  api = await startTestApi();
});
afterEach(async () => api[Symbol.asyncDispose]());

const SHOOT = '2026-03-01';
const AWAY: Failure = { code: 'DESTINATION_MISSING', sentence: 'It is away.', retry: 'destination' };
const SEAL_FAILED: RollEvent = { type: 'sealFailed', visit: 1, destination: 'primary', attempt: 0, failure: AWAY };

const Plan = z.looseObject({ id: z.string(), destinations: z.record(z.string(), z.unknown()), sentence: z.string() });
const Many = z.looseObject({ rolls: z.array(Plan), shootSteps: z.array(z.string()), sentence: z.string() });

async function openShoot(): Promise<void> {
  await api.store.saveShoot({ id: SHOOT, name: SHOOT, openedAt: NOW, closedAt: null, named: false });
}

async function retryMany(path: string, body?: unknown): Promise<z.output<typeof Many>> {
  const answer = await api.post(path, body);
  expect(answer.status).toBe(202);
  return Many.parse(await answer.json());
}

async function problem(answer: Promise<Response>): Promise<unknown> {
  const { status } = await answer;
  const { type } = z.looseObject({ type: z.string() }).parse(await (await answer).json());
  return [status, type];
}

describe('the retry of a roll', () => {
  it('under a step takes up what failed in it, and nothing else', async () => {
    await addRoll(api.store, {}, [FAILED_AT_BACKUP, SEAL_FAILED]);
    const seal = Plan.parse(await (await api.post('/v1/rolls/wheel-1/retry', { step: 'seal' })).json());
    expect(Object.keys(seal.destinations)).toEqual(['primary']);
    const none = Plan.parse(await (await api.post('/v1/rolls/wheel-1/retry', { step: 'checksum' })).json());
    expect(none).toMatchObject({ destinations: {}, judgement: false, facts: false });
    const ingest = Plan.parse(await (await api.post('/v1/rolls/wheel-1/retry', { step: 'ingest' })).json());
    expect(Object.keys(ingest.destinations)).toEqual(['backup']);
  });

  it('refuses a step that a roll does not have', async () => {
    await addRoll(api.store, {});
    for (const step of ['records', 'polish'])
      expect(await problem(api.post('/v1/rolls/wheel-1/retry', { step }))).toEqual([422, '/problems/invalid-body']);
  });

  it('says when the drive is wanted for it', async () => {
    await addRoll(api.store, {}, [FAILED_AT_BACKUP, { type: 'volumeLeft' }]);
    const plan = Plan.parse(await (await api.post('/v1/rolls/wheel-1/retry')).json());
    expect(plan.sentence).toBe('What failed at backup is tried again as soon as the drive is connected.');
    const proven: RollEvent = {
      type: 'parcelReadBack',
      visit: 1,
      parcel: 1,
      destination: 'primary',
      failure: null,
      findings: [],
    };
    await addRoll(api.store, { id: 'wheel-2' }, [FAILED_AT_BACKUP, proven, { type: 'volumeLeft' }]);
    expect(await (await api.post('/v1/rolls/wheel-2/retry')).json()).toMatchObject({
      sentence: 'What failed at backup is tried again now, as far as that can be done without the drive.',
    });
  });
});

describe('the retry of a shoot', () => {
  it('takes up what failed of each of its rolls, and leaves other rolls and shoots alone', async () => {
    await openShoot();
    await addRoll(api.store, { id: 'wheel-1' }, [FAILED_AT_BACKUP]);
    await addRoll(api.store, { id: 'wheel-2' }, [SEAL_FAILED]);
    await addRoll(api.store, { id: 'wheel-3' });
    await addRoll(api.store, { id: 'wheel-4', shootId: 'kiln-day' }, [FAILED_AT_BACKUP]);
    const before = await api.store.roll('wheel-4');
    const plan = await retryMany(`/v1/shoots/${SHOOT}/retry`);
    expect(plan.rolls).toMatchObject([
      { id: 'wheel-1', destinations: { backup: { parcels: 2, files: 11, bytes: 4e9 } } },
      { id: 'wheel-2', destinations: { primary: { parcels: 2 } } },
    ]);
    expect(plan.sentence).toBe(
      'Of shoot "2026-03-01", something of 2 of its 3 rolls (22 copies of files, 8000000000 bytes) is tried again.',
    );
    expect(await api.store.roll('wheel-4')).toEqual(before);
    expect((await retryMany(`/v1/shoots/${SHOOT}/retry`, {})).sentence).toContain('nothing to try again');
  });

  it('under a filter takes up one step or one destination', async () => {
    await openShoot();
    await addRoll(api.store, { id: 'wheel-1' }, [FAILED_AT_BACKUP]);
    await addRoll(api.store, { id: 'wheel-2' }, [SEAL_FAILED]);
    const path = `/v1/shoots/${SHOOT}/retry`;
    const ids = async (body: unknown): Promise<readonly string[]> =>
      (await retryMany(path, body)).rolls.map(({ id }) => id);
    expect(await ids({ step: 'checksum' })).toEqual([]);
    expect(await ids({ step: 'seal', destination: 'backup' })).toEqual([]);
    expect(await ids({ step: 'seal' })).toEqual(['wheel-2']);
    expect(await ids({ destination: 'backup' })).toEqual(['wheel-1']);
    expect(await problem(api.post(path, { destination: 'elsewhere' }))).toEqual([422, '/problems/invalid-body']);
    expect(await problem(api.post('/v1/shoots/nowhere/retry'))).toEqual([404, '/problems/shoot-unknown']);
  });

  it('has its own steps made again that failed, and asks for them', async () => {
    await openShoot();
    const sealed: RollEvent = { type: 'sealed', visit: 1, destination: 'primary', attempt: 0, generation: 1 };
    await addRoll(api.store, {}, [sealed]);
    await api.store.noteShootFailure(SHOOT, 'sync-grouping', AWAY);
    expect((await retryMany(`/v1/shoots/${SHOOT}/retry`, { step: 'records' })).shootSteps).toEqual([]);
    expect((await retryMany(`/v1/shoots/${SHOOT}/retry`, { destination: 'primary' })).shootSteps).toEqual([]);
    expect((await api.queue.counts()).waiting).toBe(0);
    const plan = await retryMany(`/v1/shoots/${SHOOT}/retry`, { step: 'sync-grouping' });
    expect(plan).toMatchObject({
      shootSteps: ['sync-grouping'],
      sentence: 'Of shoot "2026-03-01", which clips ran together is tried again.',
    });
    expect((await api.queue.counts()).waiting).toBe(1);
    expect((await api.store.shootProgress(SHOOT)).failed).toBeUndefined();
  });
});

function retryRun(id: string): Promise<Response> {
  return api.post(`/v1/runs/${id}/retry`);
}

describe('the retry of a run', () => {
  it('takes up what failed in it, by the id that the roll names', async () => {
    await addRoll(api.store, {}, [FAILED_AT_BACKUP]);
    const { failures } = z
      .object({ failures: z.array(z.looseObject({ run: z.string() })) })
      .parse(await (await api.get('/v1/rolls/wheel-1')).json());
    expect(failures).toMatchObject([{ step: 'ingest', run: 'ingest-wheel-1-1-1-0-backup' }]);
    const plan = await retryMany(`/v1/runs/${failures[0]?.run}/retry`);
    expect(plan.rolls).toMatchObject([{ id: 'wheel-1', destinations: { backup: {} } }]);
    expect(plan.sentence).toBe('What failed at backup is tried again now.');
    expect(await problem(retryRun('ingest-wheel-1-1-1-0-backup'))).toEqual([409, '/problems/run-not-failed']);
  });

  it('takes the id that the run itself had, over all its destinations', async () => {
    await addRoll(api.store, {}, [FAILED_AT_BACKUP]);
    expect((await retryMany('/v1/runs/ingest-wheel-1-1-1-0-backup-primary/retry')).rolls).toMatchObject([
      { destinations: { backup: {} } },
    ]);
  });

  it('is refused while the run is under way, or has not failed, or is unknown', async () => {
    await openShoot();
    await addRoll(api.store, {});
    expect(await problem(retryRun('ingest-wheel-1-1-0-0-backup-primary'))).toEqual([409, '/problems/run-under-way']);
    expect(await problem(retryRun('seal-wheel-1-1-0-primary'))).toEqual([409, '/problems/run-not-failed']);
    expect(await problem(retryRun(`records-${SHOOT}`))).toEqual([409, '/problems/run-not-failed']);
    for (const id of ['ingest-hands-1-1-0-0-primary', 'records-nowhere', 'nothing', '..%2F', `notification-wheel-1-x`])
      expect(await problem(retryRun(id))).toEqual([404, '/problems/run-unknown']);
  });

  it('of a shoot is made again', async () => {
    await openShoot();
    await api.store.noteShootFailure(SHOOT, 'records', AWAY);
    expect(await retryMany(`/v1/runs/records-${SHOOT}/retry`)).toMatchObject({ rolls: [], shootSteps: ['records'] });
  });
});

async function attempt(): Promise<unknown> {
  return (await api.store.roll('wheel-1'))?.parcels[1]?.copies['backup']?.attempt;
}

describe.each([`/v1/shoots/${SHOOT}/retry`, '/v1/runs/ingest-wheel-1-1-1-0-backup/retry', '/v1/rolls/wheel-1/retry'])(
  '%s',
  (path) => {
    async function send(headers: Record<string, string>): Promise<Response> {
      const authorization = `Bearer ${TOKEN}`;
      return fetch(api.url + path, { method: 'POST', headers: { authorization, ...headers } });
    }
    it('is carried out once under an idempotency key, also when it fails again meanwhile', async () => {
      await openShoot();
      await addRoll(api.store, {}, [FAILED_AT_BACKUP]);
      const key = { 'idempotency-key': `once-${path}` };
      const first = await send(key);
      expect(await attempt()).toBe(1);
      await addRoll(api.store, {}, [FAILED_AT_BACKUP]);
      const standing = await attempt();
      const again = await send(key);
      expect([again.status, await again.json()]).toEqual([first.status, await first.json()]);
      expect(again.headers.get('idempotency-replayed')).toBe('true');
      expect(await attempt()).toBe(standing);
    });

    it('leaves a record of who asked for it and when', async () => {
      await openShoot();
      await addRoll(api.store, {}, [FAILED_AT_BACKUP]);
      await send({ 'quayside-operator': 'ada' });
      const { entries } = z.object({ entries: z.array(z.unknown()) }).parse(await (await api.get('/v1/audit')).json());
      expect(entries[0]).toEqual({ at: NOW, by: 'ada', action: `POST ${path}`, body: null, status: 202 });
    });
  },
);

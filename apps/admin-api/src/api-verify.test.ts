import { advance, type RollEvent } from '@quayside/pipeline';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { addRoll, NOW, startTestApi, type TestApi } from './api.test-support.ts';

let api: TestApi;
beforeEach(async () => {
  api = await startTestApi();
});
afterEach(async () => api[Symbol.asyncDispose]());

const BEFORE = '2026-02-01T00:00:00.000Z';
const copied = (parcel: number): RollEvent => {
  return { type: 'parcelCopied', visit: 1, parcel, outcome: { primary: null, backup: null }, findings: [] };
};
const readBack = (parcel: number, destination: string): RollEvent => {
  return { type: 'parcelReadBack', visit: 1, parcel, destination, failure: null, findings: [] };
};
const sealed = (destination: string): RollEvent => {
  return { type: 'sealed', visit: 1, destination, attempt: 0, generation: 1, readBackAt: BEFORE };
};
const SEALED: readonly RollEvent[] = [
  copied(0),
  copied(1),
  ...['primary', 'backup'].flatMap((name) => [readBack(0, name), readBack(1, name), sealed(name)]),
];

async function keep(id: string, shootId: string): Promise<void> {
  await addRoll(api.store, { id, shootId }, [...SEALED, { type: 'volumeLeft' }]);
  await api.store.saveShoot({ id: shootId, name: shootId, openedAt: BEFORE, closedAt: null, named: true });
}

async function json(answer: Promise<Response>): Promise<unknown> {
  return (await answer).json();
}

it('a request to verify a shoot says what will be read, twice is once, and it is in the audit', async () => {
  await keep('wheel-1', 'class');
  await keep('wheel-2', 'other');
  const plan = { kind: 'shoot', id: 'class', since: NOW, waitsForIntake: false, rolls: 1, files: 22, bytes: 8e9 };
  const answer = await api.post('/v1/shoots/class/verify', {});
  expect([answer.status, await answer.json()]).toMatchObject([202, plan]);
  expect(await json(api.post('/v1/shoots/class/verify', {}))).toMatchObject(plan);
  expect(await api.store.rereadWishes()).toEqual([{ kind: 'shoot', id: 'class', since: NOW }]);
  expect(await json(api.get('/v1/audit'))).toMatchObject({
    entries: [{ action: 'POST /v1/shoots/class/verify', status: 202 }, {}],
  });
});

it('a destination is verified with all that lies there, and waits for a drive that is being taken in', async () => {
  await keep('wheel-1', 'class');
  await keep('wheel-2', 'other');
  await addRoll(api.store, { id: 'wheel-3', shootId: 'other' });
  const plan = { waitsForIntake: true, rolls: 2, files: 22, bytes: 8e9, sentence: expect.stringContaining('taken in') };
  expect(await json(api.post('/v1/destinations/backup/verify'))).toMatchObject(plan);
});

it('where nothing is sealed there is nothing to verify, and what is not known is a problem', async () => {
  await addRoll(api.store, { id: 'wheel-1', shootId: 'class' });
  expect(await json(api.post('/v1/destinations/backup/verify'))).toMatchObject({ rolls: 0, files: 0, bytes: 0 });
  expect(await api.store.rereadWishes()).toEqual([]);
  expect(await json(api.post('/v1/destinations/vault/verify'))).toMatchObject({
    type: '/problems/destination-unknown',
    detail: expect.stringContaining('primary, backup'),
  });
  expect(await json(api.post('/v1/shoots/nowhere/verify'))).toMatchObject({ type: '/problems/shoot-unknown' });
});

it('the progress counts what has been read since, and names what was bad and what could not be read', async () => {
  await keep('wheel-1', 'class');
  const path = `/v1/shoots/class/verify?since=${NOW}`;
  const begun = { copies: 2, copiesDone: 0, bytes: 8e9, bytesDone: 0, isDone: false, bad: [], unread: [] };
  expect(await json(api.get(path))).toMatchObject(begun);

  const about = { visit: 1, destination: 'primary', since: NOW };
  const apply = async (...events: readonly RollEvent[]): Promise<void> => {
    for (const event of events)
      await api.store.changeRoll('wheel-1', (roll) => advance(roll, event, '2026-03-01T11:00:00.000Z'));
  };
  await apply(
    { type: 'rereadRequested', destinations: ['primary'], since: NOW },
    { type: 'parcelReread', ...about, parcel: 0, badFiles: 0, failure: null, findings: [] },
  );
  expect(await json(api.get(path))).toMatchObject({ ...begun, bytesDone: 3e9 });
  const bad = { code: 'CHECKSUM_MISMATCH', sentence: 'It differs.', retry: 'copy' } as const;
  await apply({ type: 'parcelReread', ...about, parcel: 1, badFiles: 1, failure: bad, findings: [] });
  expect(await json(api.get(path))).toMatchObject({
    isDone: false,
    waitsForIntake: false,
    bad: [{ rollId: 'wheel-1', destination: 'primary', badFiles: 1, isMended: false }],
  });
  const outcome = { primary: null };
  await apply(
    { type: 'rereadRecorded', ...about, generation: 2, readBackAt: NOW },
    { type: 'parcelRecopied', visit: 1, parcel: 1, from: 'backup', fromFailure: null, outcome, findings: [] },
    readBack(1, 'primary'),
    { type: 'sealed', visit: 1, destination: 'primary', attempt: 1, generation: 3, readBackAt: NOW },
    { type: 'rereadRequested', destinations: ['backup'], since: NOW },
    {
      type: 'rereadFailed',
      visit: 1,
      destination: 'backup',
      since: NOW,
      failure: { code: 'DESTINATION_MISSING', sentence: 'It is away.', retry: 'destination' },
      findings: [],
    },
  );
  expect(await json(api.get(path))).toMatchObject({
    isDone: true,
    copiesDone: 2,
    bytesDone: 8e9,
    bad: [{ isMended: true }],
    unread: [{ destination: 'backup', failure: { code: 'DESTINATION_MISSING' } }],
  });
});

import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { addRoll, FAILED_AT_BACKUP, NOW, startTestApi, type TestApi } from './api.test-support.ts';

let api: TestApi;
beforeEach(async () => {
  api = await startTestApi();
});
afterEach(async () => api[Symbol.asyncDispose]());

const Anything = z.record(z.string(), z.unknown());

async function json(response: Promise<Response>): Promise<z.output<typeof Anything>> {
  return Anything.parse(await (await response).json());
}

describe('rolls', () => {
  it('shows a roll with its verdict, its progress and each destination', async () => {
    await addRoll(api.store, {}, [
      { type: 'parcelCopied', visit: 1, parcel: 0, outcome: { primary: null, backup: null }, findings: [] },
      { type: 'parcelReadBack', visit: 1, parcel: 0, destination: 'primary', failure: null, findings: [] },
    ]);
    await api.store.noteProgress('wheel-1', {
      visit: 1,
      copiedBytes: 6e9,
      verifiedBytes: 3.5e9,
      bytesPerSecond: 1e8,
      at: Date.now(),
    });
    const roll = await json(api.get('/v1/rolls/wheel-1'));
    expect(roll).toMatchObject({
      id: 'wheel-1',
      drivePresent: true,
      mountPath: '/media/WHEEL',
      activity: 'copying',
      fileCount: 11,
      sizeInBytes: 4e9,
      // 4 GB, twice (write and read back), at two destinations: 16 GB of work, of which 9.5 GB are done.
      progress: { totalBytes: 4e9, fraction: 9.5 / 16, bytesPerSecond: 1e8, secondsLeft: 65 },
      clearance: { verdict: 'hold', reasons: [{ code: 'IN_PROGRESS' }] },
      destinations: {
        primary: { standing: 'taking', parcels: { absent: 1, verified: 1 }, verifiedFiles: 10, verifiedBytes: 3e9 },
        backup: { parcels: { absent: 1, written: 1 }, verifiedFiles: 0, sealedGeneration: null },
      },
    });
  });

  it('tells no rate that is older than ten seconds', async () => {
    await addRoll(api.store, {});
    await api.store.noteProgress('wheel-1', {
      visit: 1,
      copiedBytes: 1e9,
      verifiedBytes: 0,
      bytesPerSecond: 1e8,
      at: Date.now() - 11_000,
    });
    expect((await json(api.get('/v1/rolls/wheel-1')))['progress']).toMatchObject({
      bytesPerSecond: 0,
      secondsLeft: null,
    });
  });

  it('pages through all rolls, newest first, without a gap when one arrives between the pages', async () => {
    for (const id of ['r-1', 'r-2', 'r-3', 'r-4', 'r-5']) {
      const roll = await addRoll(api.store, { id });
      await api.store.changeRoll(id, () => ({
        ...roll,
        openedAt: `2026-03-01T10:00:0${Math.ceil(Number(id[2]) / 2)}.000Z`,
      }));
    }
    const page = async (query: string): Promise<z.output<typeof RollPage>> =>
      RollPage.parse(await json(api.get(`/v1/rolls?limit=2${query}`)));
    const first = await page('');
    await addRoll(api.store, { id: 'r-6' });
    const second = await page(`&cursor=${first.next}`);
    const third = await page(`&cursor=${second.next}`);
    const ids = [first, second, third].flatMap(({ rolls }) => rolls.map(({ id }) => id));
    expect(ids).toEqual(['r-5', 'r-3', 'r-4', 'r-1', 'r-2', 'r-6']);
    expect(third.next).toBeNull();
  });

  it('filters rolls by shoot and by verdict', async () => {
    await addRoll(api.store, { id: 'r-1', shootId: 'a' });
    await addRoll(api.store, { id: 'r-2', shootId: 'b' });
    expect((await json(api.get('/v1/rolls?shoot=b')))['rolls']).toMatchObject([{ id: 'r-2' }]);
    expect((await json(api.get('/v1/rolls?verdict=hold')))['rolls']).toHaveLength(2);
    expect((await json(api.get('/v1/rolls?verdict=clear')))['rolls']).toEqual([]);
  });

  it('lists the copies of every file at every destination by page, those not begun included', async () => {
    await addRoll(api.store, {});
    // A byte that is no UTF-8 stands as a lone surrogate and has to survive JSON.
    await api.store.saveParcels('wheel-1', 1, [files('a.mov', 'b\udcff.mov'), files('k.mov')]);
    await api.store.noteCopies('wheel-1', 'primary', {
      'a.mov': { state: 'verified', storedPath: 'a.mov', digests: { xxh128: 'ab' }, method: 'direct' },
    });
    const first = CopyPage.parse(await json(api.get('/v1/rolls/wheel-1/copies?limit=4')));
    const rest = CopyPage.parse(await json(api.get(`/v1/rolls/wheel-1/copies?limit=4&cursor=${first.next}`)));
    expect([...first.copies, ...rest.copies].map((row) => [row.path, row.destination, row.copy.state])).toEqual([
      ['a.mov', 'backup', 'absent'],
      ['a.mov', 'primary', 'verified'],
      ['b\udcff.mov', 'backup', 'absent'],
      ['b\udcff.mov', 'primary', 'absent'],
      ['k.mov', 'backup', 'absent'],
      ['k.mov', 'primary', 'absent'],
    ]);
    expect(rest.next).toBeNull();
    const verified = await json(api.get('/v1/rolls/wheel-1/copies?state=verified'));
    expect(verified['copies']).toEqual([
      {
        path: 'a.mov',
        sizeInBytes: 1,
        destination: 'primary',
        copy: { state: 'verified', storedPath: 'a.mov', digests: { xxh128: 'ab' }, method: 'direct' },
      },
    ]);
  });
});

describe('retry', () => {
  it('takes up again only what failed, and says how much that is', async () => {
    await addRoll(api.store, {}, [FAILED_AT_BACKUP]);
    const plan = await json(api.post('/v1/rolls/wheel-1/retry'));
    // Parcel 0 was never begun at backup, so it is still to take as well.
    expect(plan).toMatchObject({ drivePresent: true, destinations: { backup: { parcels: 2, files: 11, bytes: 4e9 } } });
    expect(Object.keys(Anything.parse(plan['destinations']))).toEqual(['backup']);
    expect((await api.store.roll('wheel-1'))?.parcels[1]?.copies).toMatchObject({
      backup: { state: 'absent', attempt: 1 },
      primary: { state: 'written', attempt: 0 },
    });
    expect((await api.queue.counts()).waiting).toBeGreaterThan(0);
  });

  it('answers a second retry with nothing to do', async () => {
    await addRoll(api.store, {}, [FAILED_AT_BACKUP]);
    await api.post('/v1/rolls/wheel-1/retry');
    const again = await api.post('/v1/rolls/wheel-1/retry', {});
    expect(again.status).toBe(202);
    expect(await again.json()).toMatchObject({
      destinations: {},
      sentence: expect.stringContaining('nothing to try again'),
    });
  });

  it('leaves other destinations alone, and refuses one that the roll does not have', async () => {
    await addRoll(api.store, {}, [FAILED_AT_BACKUP]);
    expect((await json(api.post('/v1/rolls/wheel-1/retry', { destination: 'primary' })))['destinations']).toEqual({});
    const refused = await api.post('/v1/rolls/wheel-1/retry', { destination: '__proto__' });
    expect(refused.status).toBe(422);
    expect(await refused.json()).toMatchObject({ errors: [{ pointer: '#/destination' }] });
  });
});

describe('move', () => {
  it('moves a roll that is not sealed to a shoot that exists', async () => {
    await addRoll(api.store, {});
    expect((await api.post('/v1/rolls/wheel-1/move', { shootId: 'kiln-day' })).status).toBe(404);
    await api.post('/v1/shoots', { name: 'Kiln day' });
    const moved = await api.post('/v1/rolls/wheel-1/move', { shootId: 'kiln-day' });
    expect(moved.status).toBe(202);
    expect(await moved.json()).toEqual({ id: 'wheel-1', shootId: '2026-03-01', movingTo: 'kiln-day' });
  });

  it('refuses a roll that is sealed anywhere', async () => {
    await api.post('/v1/shoots', { name: 'Kiln day' });
    await addRoll(api.store, {}, [{ type: 'sealed', visit: 1, destination: 'backup', attempt: 0, generation: 1 }]);
    const refused = await api.post('/v1/rolls/wheel-1/move', { shootId: 'kiln-day' });
    expect(refused.status).toBe(409);
    expect(await refused.json()).toMatchObject({
      type: '/problems/roll-sealed',
      detail: expect.stringContaining('backup'),
    });
  });

  it('refuses a roll that is on its way to another shoot', async () => {
    await api.post('/v1/shoots', { name: 'one' });
    await api.post('/v1/shoots', { name: 'two' });
    await addRoll(api.store, {}, [{ type: 'moveRequested', shootId: 'one' }]);
    expect((await api.post('/v1/rolls/wheel-1/move', { shootId: 'one' })).status).toBe(202);
    expect(await json(api.post('/v1/rolls/wheel-1/move', { shootId: 'two' }))).toMatchObject({
      type: '/problems/roll-moving',
    });
  });
});

describe('judge', () => {
  it('refuses while the drive is away, since a roll is judged against it', async () => {
    await addRoll(api.store, {}, [{ type: 'volumeLeft' }]);
    expect(await json(api.post('/v1/rolls/wheel-1/judge'))).toMatchObject({
      status: 409,
      type: '/problems/drive-away',
    });
  });

  it('says that a judgement is on its way', async () => {
    await addRoll(api.store, {});
    expect(await json(api.post('/v1/rolls/wheel-1/judge'))).toMatchObject({ judgementPending: true });
  });
});

describe('shoots', () => {
  it('opens a shoot by name once, and closes it', async () => {
    const opened = await api.post('/v1/shoots', { name: '  Töpfern & Brennen, Tag 2 ' });
    expect(opened.status).toBe(201);
    expect(opened.headers.get('location')).toBe('/v1/shoots/topfern-brennen-tag-2');
    expect(await opened.json()).toMatchObject({
      id: 'topfern-brennen-tag-2',
      name: 'Töpfern & Brennen, Tag 2',
      named: true,
      closedAt: null,
      openedAt: NOW,
    });
    expect(await json(api.post('/v1/shoots', { name: 'topfern brennen tag 2' }))).toMatchObject({
      status: 409,
      type: '/problems/shoot-exists',
    });
    expect((await json(api.post('/v1/shoots/topfern-brennen-tag-2/close')))['closedAt']).toBe(NOW);
  });

  it('opens a name only once when it is asked for many times at once', async () => {
    const answers = await Promise.all(Array.from({ length: 8 }, () => api.post('/v1/shoots', { name: 'Kiln' })));
    expect(answers.map(({ status }) => status).toSorted((a, b) => a - b)).toEqual([201, ...Array<number>(7).fill(409)]);
  });

  it('gives a shoot another name, and has its records written again', async () => {
    await api.post('/v1/shoots', { name: 'Kiln' });
    const { acknowledgements } = await api.store.shootProgress('kiln');
    const renamed = await api.post('/v1/shoots/kiln/rename', { name: 'Kiln day' });
    expect(await renamed.json()).toMatchObject({ id: 'kiln', name: 'Kiln day', closedAt: null });
    expect((await api.store.shootProgress('kiln')).acknowledgements).toBeGreaterThan(acknowledgements);
    await api.post('/v1/shoots/kiln/rename', { name: 'Kiln day' });
    const events = await api.store.eventsAfter('0', 100);
    expect(events.filter(({ type }) => type === 'shoot.renamed').map(({ sentence }) => sentence)).toEqual([
      'Shoot "Kiln" is called "Kiln day" from now on.',
    ]);
    expect((await api.post('/v1/shoots/nowhere/rename', { name: 'x' })).status).toBe(404);
  });

  it('gives a name without Latin letters an id of its own', async () => {
    expect((await json(api.post('/v1/shoots', { name: '陶芸教室' })))['id']).toMatch(/^shoot-[0-9a-f]{8}$/);
  });

  it('shows a shoot with its rolls and how many are clear', async () => {
    await api.post('/v1/shoots', { name: 'Kiln' });
    await addRoll(api.store, { id: 'r-1', shootId: 'kiln' });
    await addRoll(api.store, { id: 'r-2', shootId: 'other' });
    expect(await json(api.get('/v1/shoots/kiln'))).toMatchObject({
      rollCount: 1,
      holdCount: 1,
      clearCount: 0,
      rolls: [{ id: 'r-1' }],
    });
  });
});

const RollPage = z.object({ rolls: z.array(z.object({ id: z.string() })), next: z.string().nullable() });
const CopyPage = z.object({
  copies: z.array(z.object({ path: z.string(), destination: z.string(), copy: z.object({ state: z.string() }) })),
  next: z.string().nullable(),
});

function files(...paths: readonly string[]): { path: string; sizeInBytes: number; modifiedMs: number }[] {
  return paths.map((path) => ({ path, sizeInBytes: 1, modifiedMs: 0 }));
}

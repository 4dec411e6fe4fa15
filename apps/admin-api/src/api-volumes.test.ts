import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { addRoll, NOW, startTestApi, type TestApi, volume } from './api.test-support.ts';

let api: TestApi;
beforeEach(async () => {
  api = await startTestApi();
});
afterEach(async () => api[Symbol.asyncDispose]());

const Anything = z.record(z.string(), z.unknown());

async function json(response: Promise<Response>): Promise<z.output<typeof Anything>> {
  return Anything.parse(await (await response).json());
}

const volumeKeys = async (query: string): Promise<unknown> =>
  z
    .object({ volumes: z.array(z.object({ key: z.string() })) })
    .parse(await json(api.get(`/v1/volumes${query}`)))
    .volumes.map(({ key }) => key);

describe('volumes', () => {
  it('are listed all, or those that are connected, or those that are not', async () => {
    const here = volume();
    const away = volume({ identity: { ...here.identity, key: 'exfat-2' }, mount: null });
    for (const one of [here, away]) await api.store.saveVolume(one);
    expect(await volumeKeys('')).toEqual([here.identity.key, 'exfat-2']);
    expect(await volumeKeys('?connected=true')).toEqual([here.identity.key]);
    expect(await volumeKeys('?connected=false')).toEqual(['exfat-2']);
  });

  it('assigns a volume to a recorder of the configuration and tells the listeners', async () => {
    await api.store.saveVolume(volume());
    const assigned = await api.post('/v1/volumes/exfat-1a2b-3c4d/assign', { recorder: 'wheel' });
    expect(assigned.status).toBe(202);
    expect(await assigned.json()).toMatchObject({ recorder: null, assigned: { recorder: 'wheel', shootId: null } });
    expect(await api.store.assignments()).toEqual({ 'exfat-1a2b-3c4d': { recorder: 'wheel', shootId: null } });
    expect((await api.store.eventsAfter('0', 9)).map(({ type }) => type)).toEqual(['volume.assigned']);
  });

  it.each(['kiln', '__proto__', 'constructor', ''])(
    'refuses the recorder %j, which the configuration does not have',
    async (recorder) => {
      await api.store.saveVolume(volume());
      const refused = await api.post('/v1/volumes/exfat-1a2b-3c4d/assign', JSON.stringify({ recorder }));
      expect(refused.status).toBe(422);
      expect(await refused.json()).toMatchObject({
        detail: expect.stringContaining('desk, wheel'),
        errors: [{ pointer: '#/recorder' }],
      });
      expect(await api.store.assignments()).toEqual({});
    },
  );

  it('refuses a shoot that does not exist, and a volume that was never seen', async () => {
    await api.store.saveVolume(volume());
    expect(
      await json(api.post('/v1/volumes/exfat-1a2b-3c4d/assign', { recorder: 'wheel', shoot: 'nope' })),
    ).toMatchObject({ status: 422, errors: [{ pointer: '#/shoot' }] });
    expect(await json(api.post('/v1/volumes/exfat-0/assign', { recorder: 'wheel' }))).toMatchObject({
      status: 404,
      type: '/problems/volume-unknown',
    });
  });
});

describe('findings', () => {
  it('lists the gravest first', async () => {
    const finding = { subject: { kind: 'roll', id: 'wheel-1' } as const, why: 'Why.', remedy: 'Do.', at: NOW };
    await addRoll(api.store, {}, [
      {
        type: 'parcelCopied',
        visit: 1,
        parcel: 0,
        outcome: {},
        findings: [
          { ...finding, code: 'WEAK', severity: 'info' },
          { ...finding, code: 'GRAVE', severity: 'critical' },
        ],
      },
    ]);
    expect((await json(api.get('/v1/findings')))['findings']).toMatchObject([
      { code: 'GRAVE', rollId: 'wheel-1' },
      { code: 'WEAK' },
    ]);
    expect(await json(api.get('/v1/findings?severity=info'))).toMatchObject({ total: 1, findings: [{ code: 'WEAK' }] });
  });
});

import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { advance } from '@quayside/pipeline';
import type { Clip, MediaFacts } from '@quayside/shoot';
import { groupBySync, GroupingPolicy } from '@quayside/sync-grouping';
import { beforeAll, afterAll, describe, expect, it } from 'vitest';
import { startTestApi, type TestApi } from './api.test-support.ts';

const SHOOT = '2026-11-25';
const NOW = '2026-11-25T18:00:00.000Z';

function picture(startTimecode: string, frameCount: number): MediaFacts {
  return {
    kind: 'picture',
    container: 'mov',
    durationMs: Math.round((frameCount * 1001) / 24),
    picture: {
      codec: 'prores',
      profile: 'LT',
      width: 1920,
      height: 1080,
      pixelAspect: null,
      rate: { numerator: 24_000, denominator: 1001 },
      isVariableRate: false,
      frameCount,
      scan: 'progressive',
      bitDepth: 10,
      chroma: '4:2:2',
      colour: { primaries: null, transfer: null, matrix: null },
    },
    startTimecode,
    sound: [{ codec: 'pcm', channels: 2, sampleRate: 48_000, bitDepth: 24, sampleCount: frameCount * 2002 }],
    wave: null,
    device: { make: null, model: null, serial: null },
    reel: null,
    created: null,
    damage: [],
  };
}

/** Two cameras, two takes; `hands` is cut short in the second. Only the first take of both is proven, at both destinations. */
const CLIPS = [
  ['wheel', 'A001.MOV', picture('10:00:00:00', 240)],
  ['hands', 'B001.MOV', picture('10:00:00:02', 240)],
  ['wheel', 'A002.MOV', picture('10:05:00:00', 480)],
  ['hands', 'B002.MOV', picture('10:05:00:02', 240)],
] as const;

async function fill({ store }: TestApi): Promise<void> {
  await store.saveShoot({ id: SHOOT, name: 'Pottery class', openedAt: NOW, closedAt: null, named: false });
  for (const recorder of ['wheel', 'hands'] as const) {
    const files = CLIPS.filter(([by]) => by === recorder).map(([, path, facts], take) => ({
      path,
      sizeInBytes: 1000,
      modifiedMs: Date.UTC(2026, 10, 25, 10, take * 5),
      facts,
    }));
    const id = `${recorder}-1`;
    const listed = {
      id,
      shootId: SHOOT,
      recorder,
      role: 'camera' as const,
      volume: {
        key: id,
        basis: 'uuid' as const,
        uuid: id,
        serial: null,
        label: recorder,
        fileSystem: 'exfat',
        sizeInBytes: 10_000,
      },
      fingerprint: id,
      litterCount: 0,
      facts: 'read' as const,
      parcels: [{ firstPath: files[0]?.path ?? '', fileCount: files.length, sizeInBytes: 2000 }],
      destinations: { primary: null, backup: null },
      findings: [],
    };
    const mount = { path: `/media/${recorder}`, mountId: '1', device: '8:1' };
    await store.changeRoll(id, (roll) => advance(roll, { type: 'listed', roll: { ...listed, mount } }, NOW));
    await store.saveParcels(id, 1, [files.map(({ facts: _facts, ...file }) => file)]);
    await store.saveFacts(id, files);
    const [first] = files;
    for (const destination of ['primary', 'backup'])
      await store.noteCopies(id, destination, {
        [first?.path ?? '']: { state: 'verified', storedPath: first?.path ?? '', digests: {}, method: 'direct' },
      });
  }
  const clips = CLIPS.map(([recorder, path, facts]): Clip => ({
    id: `${recorder}-1/${path}`,
    rollId: `${recorder}-1`,
    path,
    recorder,
    role: 'camera',
    sizeInBytes: 1000,
    modifiedAt: NOW,
    facts,
  }));
  await store.saveGrouping(SHOOT, groupBySync(clips, GroupingPolicy.parse({}), { shootId: SHOOT, at: NOW }));
}

let api: TestApi;
beforeAll(async () => {
  api = await startTestApi();
  await fill(api);
});
afterAll(() => api[Symbol.asyncDispose]());

interface Answered {
  readonly groups: readonly Record<string, unknown>[];
  readonly clips: readonly Record<string, unknown>[];
  readonly findings: readonly Record<string, unknown>[];
  readonly records: readonly Record<string, unknown>[];
  readonly next: string | null;
  readonly isCurrent: boolean;
}

async function get(path: string): Promise<Answered> {
  const answer = await api.get(`/v1/shoots/${SHOOT}${path}`);
  expect(answer.status, path).toBe(200);
  return (await answer.json()) as Answered;
}

describe('groups', () => {
  it('are listed in the order of recording, with where each can be edited now', async () => {
    const { groups, isCurrent, next } = await get('/groups');
    expect(groups.map(({ start, editableAt, unproven }) => [start, editableAt, unproven])).toEqual([
      [expect.objectContaining({ timecode: '10:00:00:00' }), ['backup', 'primary'], {}],
      [expect.objectContaining({ timecode: '10:05:00:00' }), [], { backup: 2, primary: 2 }],
    ]);
    expect(next).toBeNull();
    // The groups were put there by hand: nobody has said of which state of the facts they are.
    expect(isCurrent).toBe(false);
  });

  it('can be asked for by whether they are editable, and page by page', async () => {
    expect((await get('/groups?editable=true')).groups).toHaveLength(1);
    expect((await get('/groups?editable=false')).groups).toHaveLength(1);
    const first = await get('/groups?limit=1');
    const second = await get(`/groups?limit=1&cursor=${first.next}`);
    expect([...first.groups, ...second.groups]).toEqual((await get('/groups')).groups);
    expect(second.next).toBeNull();
  });

  it('of a shoot that nobody knows, and a cursor that nobody gave, are refused', async () => {
    expect((await api.get('/v1/shoots/nowhere/groups')).status).toBe(404);
    expect((await api.get(`/v1/shoots/${SHOOT}/groups?cursor=abc`)).status).toBe(400);
  });
});

describe('clips', () => {
  it('come with their facts, their groups and their copies', async () => {
    const { clips } = await get('/clips');
    expect(clips.map(({ id }) => id)).toEqual(CLIPS.map(([by, path]) => `${by}-1/${path}`).toSorted());
    expect(clips[0]).toMatchObject({
      path: 'B001.MOV',
      facts: { startTimecode: '10:00:00:02' },
      groupIds: [expect.any(String)],
      copies: { primary: 'verified', backup: 'verified' },
    });
    expect(clips[1]).toMatchObject({ path: 'B002.MOV', copies: { primary: 'absent' } });
  });

  it('can be asked for by recorder, roll and kind, and page by page', async () => {
    expect((await get('/clips?recorder=wheel')).clips).toHaveLength(2);
    expect((await get('/clips?roll=hands-1')).clips).toHaveLength(2);
    expect((await get('/clips?kind=sound')).clips).toEqual([]);
    const first = await get('/clips?limit=3');
    const second = await get(`/clips?limit=3&cursor=${first.next}`);
    expect([first.clips.length, second.clips.length, second.next]).toEqual([3, 1, null]);
  });
});

describe('findings', () => {
  it('name the mistakes of the takes', async () => {
    const { findings } = await get('/findings');
    expect(findings.map(({ code, recorder, acknowledged }) => [code, recorder, acknowledged])).toEqual([
      ['CLIP_CUT_SHORT', 'hands', null],
    ]);
  });

  it('once acknowledged stay so when they are worked out again, and can be asked for by that', async () => {
    const [finding] = (await get('/findings')).findings;
    const path = `/v1/shoots/${SHOOT}/findings/${String(finding?.['id'])}/acknowledge`;
    const answer = await api.post(path, { by: 'operator', note: 'the end is not needed' });
    expect([answer.status, await answer.json()]).toMatchObject([200, { acknowledged: { by: 'operator' } }]);
    const before = await api.store.grouping(SHOOT);
    if (before === null) throw new Error('no grouping');
    const later = before.findings.map((one) => ({ ...one, at: '2026-11-26T00:00:00.000Z' }));
    await api.store.saveGrouping(SHOOT, { ...before, findings: later });
    expect((await get('/findings?acknowledged=true')).findings).toMatchObject([
      { code: 'CLIP_CUT_SHORT', acknowledged: { note: 'the end is not needed' } },
    ]);
    expect((await get('/findings?acknowledged=false')).findings).toEqual([]);
    expect(await api.store.shootProgress(SHOOT)).toMatchObject({ acknowledgements: 1 });
  });

  it('that are not there cannot be acknowledged', async () => {
    const path = `/v1/shoots/${SHOOT}/findings/0123456789abcdef/acknowledge`;
    expect((await api.post(path, { by: 'operator' })).status).toBe(404);
    expect((await api.post(path, { by: '' })).status).toBe(422);
  });
});

describe('records', () => {
  beforeAll(async () => {
    const folder = join(api.folder, 'backup', SHOOT, 'records');
    await mkdir(join(folder, 'sync-groups'), { recursive: true });
    await writeFile(join(folder, 'report.html'), '<!doctype html><title>take</title>');
    await writeFile(join(folder, 'sync-groups/g1.otio'), '{}');
    await writeFile(join(folder, 'Private.txt'), 'not a record');
  });

  it('are listed from the destinations that are there, and nothing else is', async () => {
    expect((await get('/records')).records).toEqual([
      { name: 'report.html', sizeInBytes: 34, destination: 'backup' },
      { name: 'sync-groups/g1.otio', sizeInBytes: 2, destination: 'backup' },
    ]);
  });

  it('are given as they lie there, a report so that nothing in it can run', async () => {
    const report = await api.get(`/v1/shoots/${SHOOT}/records/report.html`);
    expect(await report.text()).toBe('<!doctype html><title>take</title>');
    expect(report.headers.get('content-type')).toBe('text/html; charset=utf-8');
    expect(report.headers.get('content-security-policy')).toContain("default-src 'none'");
    const timeline = await api.get(`/v1/shoots/${SHOOT}/records/sync-groups/g1.otio`);
    expect(timeline.headers.get('content-disposition')).toBe('attachment; filename="g1.otio"');
  });

  it.each(['Private.txt', '..%2f..%2ftoken', 'sync-groups/../../x.json', 'absent.csv'])(
    'gives nothing for %s',
    async (name) => {
      const answer = await api.get(`/v1/shoots/${SHOOT}/records/${name}`);
      expect(answer.status).toBeGreaterThanOrEqual(400);
      expect(answer.status).toBeLessThan(500);
    },
  );
});

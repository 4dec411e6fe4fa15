import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { openJournal } from '@quayside/message-journal';
import { sampleMessage } from '@quayside/messages';
import { advance, planState } from '@quayside/pipeline';
import { planProxies, ProxyPolicy } from '@quayside/proxy-planning';
import type { Clip, GuestRunRecord, MediaFacts } from '@quayside/shoot';
import { groupBySync, GroupingPolicy } from '@quayside/sync-grouping';
import { hashOf, tokenFile } from './access/token-file.ts';
import { FAILED_AT_BACKUP, NOW, type TestApi, volume } from './api.test-support.ts';

const SHOOT = 'kiln-day';

function picture(startTimecode: string, frameCount: number): MediaFacts {
  return {
    kind: 'picture',
    container: 'mov',
    durationMs: frameCount * 40,
    picture: {
      codec: 'prores',
      profile: 'LT',
      width: 3840,
      height: 2160,
      pixelAspect: null,
      rate: { numerator: 25, denominator: 1 },
      isVariableRate: false,
      frameCount,
      scan: 'progressive',
      bitDepth: 10,
      chroma: '4:2:2',
      colour: { primaries: null, transfer: null, matrix: null },
    },
    startTimecode,
    sound: [{ codec: 'pcm', channels: 2, sampleRate: 48_000, bitDepth: 24, sampleCount: frameCount * 1920 }],
    wave: null,
    device: { make: null, model: null, serial: null },
    reel: null,
    created: null,
    damage: [],
  };
}

const TAKES = [picture('10:00:00:00', 250), picture('10:05:00:00', 500)];

/** Three recorders of two takes each. The backup of `hands` failed; `wide` may still be moved. */
const ROLLS = ['wheel', 'hands', 'wide'].map((recorder) => ({
  id: `${recorder}-20260301-1a2b3c`,
  recorder,
  files: TAKES.map((facts, take) => ({
    path: `CLIPS/${recorder}-${take + 1}.mov`,
    sizeInBytes: 2_000_000_000,
    modifiedMs: Date.UTC(2026, 2, 1, 9, take * 5),
    facts,
  })),
}));

/**
 * A pottery class with something of everything that the API tells, under the names that the examples of the OpenAPI document
 * use, so that each of its operations has something to answer.
 */
export async function fillWorld(api: TestApi): Promise<void> {
  const { store } = api;
  const shoot = { name: 'Kiln day', openedAt: NOW, closedAt: null, named: true };
  await store.saveShoot({ id: SHOOT, ...shoot });
  await store.saveShoot({ id: 'throwing-day', ...shoot, name: 'Throwing day' });
  await store.saveVolume(volume());
  await store.beat('watcher', 3_600_000, '3 volumes');
  await store.beat('worker', 3_600_000, 'idle');
  for (const roll of ROLLS) await addRollOf(api, roll);
  await saveContents(api);
  await saveRuns(api);
  await tellPeople(api);
  await writeRecords(api);
  await keepTokens(api);
}

async function addRollOf({ store }: TestApi, { id, recorder, files }: (typeof ROLLS)[number]): Promise<void> {
  const { identity, mount } = volume();
  const listed = {
    id,
    shootId: SHOOT,
    recorder,
    role: 'camera' as const,
    volume: { ...identity, key: `exfat-${recorder}`, label: recorder.toUpperCase() },
    mount: mount ?? { path: `/media/${recorder}`, mountId: '1', device: '8:1' },
    fingerprint: id,
    litterCount: 2,
    facts: 'read' as const,
    parcels: files.map(({ path, sizeInBytes }) => ({ firstPath: path, fileCount: 1, sizeInBytes })),
    destinations: { primary: null, backup: null },
    findings: [
      {
        code: 'FILE_EMPTY',
        severity: 'warning' as const,
        subject: { kind: 'roll' as const, id, path: 'CLIPS/empty.mov' },
        why: 'The file is empty.',
        remedy: 'Look at the recorder.',
        at: NOW,
      },
    ],
  };
  await store.changeRoll(id, (roll) => advance(roll, { type: 'listed', roll: listed }, NOW));
  if (recorder === 'hands') await store.changeRoll(id, (roll) => advance(roll, FAILED_AT_BACKUP, NOW));
  await store.saveParcels(
    id,
    1,
    files.map(({ facts: _facts, ...file }) => [file]),
  );
  await store.saveFacts(id, files);
  const path = files[0]?.path ?? '';
  const digests = { xxh128: '99aa06d3014798d86001c324468d497f' };
  await store.noteCopies(id, 'primary', { [path]: { state: 'verified', storedPath: path, digests, method: 'direct' } });
  await store.noteCopies(id, 'backup', { [path]: { state: 'failed', code: 'DISK_FULL', why: 'The disk is full.' } });
}

async function saveContents({ store }: TestApi): Promise<void> {
  const clips = ROLLS.flatMap(({ id, recorder, files }) =>
    files.map(({ path, sizeInBytes, facts }): Clip => ({
      id: `${id}/${path}`,
      rollId: id,
      path,
      recorder,
      role: 'camera',
      sizeInBytes,
      modifiedAt: NOW,
      facts,
    })),
  );
  await store.saveGrouping(SHOOT, groupBySync(clips, GroupingPolicy.parse({}), { shootId: SHOOT, at: NOW }));
  const plan = planProxies(clips, ProxyPolicy.parse({}), { groups: [], measured: [], space: null });
  await store.saveProxyPlan(SHOOT, { plannedAt: NOW, changes: [], plan });
  await store.notePlanning('policy');
  await store.noteShootProgress(SHOOT, { planned: planState(await store.shootProgress(SHOOT)) });
  await store.publish([
    { type: 'shoot.opened', at: NOW, subject: SHOOT, sentence: 'Shoot "Kiln day" is open.' },
    { type: 'roll.listed', at: NOW, subject: ROLLS[0]?.id ?? '', sentence: 'Roll wheel is listed.' },
  ]);
}

async function saveRuns({ store }: TestApi): Promise<void> {
  const failure = { code: 'PLUGIN_THREW', sentence: 'Step "measure" failed.', retry: 'later' } as const;
  await store.saveGuestRun(record('00000000000000a1', {}));
  await store.saveGuestRun(record('00000000000000a2', { state: 'failed', failure }));
  await store.saveGuestRun(record('00000000000000a3', { state: 'running', endedAt: null, tookMs: null }));
  await store.savePlugins([
    {
      use: './loudness.ts',
      isOn: true,
      grants: [],
      plugin: null,
      failure: { code: 'PLUGIN_UNREADABLE', sentence: 'Plugin "./loudness.ts" cannot be read.', retry: 'never' },
    },
  ]);
  await store.saveBuiltInSteps([{ name: 'ingest', scope: 'roll', after: [] }]);
}

async function tellPeople({ folder }: TestApi): Promise<void> {
  const journal = await openJournal(join(folder, 'messages.jsonl'));
  const to = ['planning', 'bell'].map((channel) => ({ channel, dueAt: null }));
  for (const kind of ['drive.seen', 'roll.clear'] as const) {
    const told = { thread: `test/${kind}`, matter: kind, message: sampleMessage(kind, NOW) };
    await journal.accept(told, () => to, { now: NOW, event: null });
  }
  const [hook] = journal.toSend();
  await journal.noteTry(hook?.letter ?? '', { at: NOW, code: 'CHANNEL_REFUSED', why: 'It answered 500.' });
  await journal.close();
}

async function writeRecords({ folder }: TestApi): Promise<void> {
  const records = join(folder, 'primary', SHOOT, 'records');
  await mkdir(join(records, 'sync-groups'), { recursive: true });
  await writeFile(join(records, 'report.html'), '<!doctype html><title>Kiln day</title>');
  await writeFile(join(records, 'clips.json'), '[]');
  await writeFile(join(records, 'sync-groups', 'take-1.otio'), '{"OTIO_SCHEMA":"Timeline.1"}');
}

function record(id: string, change: Partial<GuestRunRecord>): GuestRunRecord {
  return {
    id,
    step: 'loudness/measure',
    version: '1.0.0',
    subject: { kind: 'roll', id: ROLLS[0]?.id ?? '' },
    shootId: SHOOT,
    rollId: ROLLS[0]?.id ?? '',
    state: 'done',
    why: 'It has not run yet.',
    fingerprint: { version: '1', config: 'c', subject: 's', outputs: 'o' },
    tries: 1,
    failure: null,
    outputDigest: 'd',
    findings: [],
    filed: null,
    progress: null,
    startedAt: NOW,
    endedAt: NOW,
    tookMs: 500,
    output: { loudestDb: -1.5 },
    files: [],
    log: { head: [{ at: NOW, level: 'info', text: 'begun' }], droppedLines: 0, tail: [] },
    ...change,
  };
}

/** As the service keeps them, under ids that do not change. */
async function keepTokens({ folder }: TestApi): Promise<void> {
  const tokens = ['wallpage', 'oldphone'].map((id) => ({
    id,
    name: id,
    scope: 'read',
    hash: hashOf(id),
    madeAt: NOW,
    expiresAt: null,
    revokedAt: null,
  }));
  await writeFile(tokenFile(folder), JSON.stringify({ tokens }), { mode: 0o600 });
}

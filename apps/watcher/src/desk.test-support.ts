import { mkdir, mkdtemp, realpath, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { type Configuration, parseConfiguration } from '@quayside/configuration';
import { applyRollEvent, openQueue, openStore, type RunQueue, startRedis, type Store } from '@quayside/job-queue';
import { fingerprintOf } from '@quayside/media-files';
import {
  folderVolumeMarker,
  presentVolumes,
  type SightedVolume,
  watchVolumes,
  writeFolderVolumeMarker,
} from '@quayside/volumes';
import { onTestFinished } from 'vitest';
import { VolumeDesk } from './volume-desk.ts';

/** A root with folder volumes, and a Redis of its own; all gone when the test is over. */
export interface Studio {
  readonly folder: string;
  readonly root: string;
  readonly socket: string;
  readonly store: Store;
  readonly queue: RunQueue;
  readonly configuration: Configuration;
  readonly lines: string[];
  /** Makes a folder volume that holds one clip. */
  insert(label: string): Promise<SightedVolume>;
  sighted(name: string): Promise<SightedVolume>;
}

export async function openStudio(destination?: string): Promise<Studio> {
  const folder = await realpath(await mkdtemp(join(tmpdir(), 'quayside-watcher-')));
  const root = join(folder, 'drives');
  await mkdir(root);
  const redis = await startRedis({ dataFolder: join(folder, 'data'), log: () => undefined });
  const store = await openStore(redis.address);
  const queue = await openQueue(redis.address);
  onTestFinished(async () => {
    await queue.close();
    await store.close();
    await redis.stop();
    await rm(folder, { recursive: true, force: true });
  });
  const text = `data: ${join(folder, 'data')}
watch: { roots: [${root}], folders: true, settleSeconds: 0.2, relistSeconds: 0.1, litter: [${folderVolumeMarker}] }
recorders: { wheel: { role: camera, match: [{ label: WHEEL }] } }
copies: 1
destinations: [{ name: primary, path: ${join(folder, destination ?? 'primary')} }]
`;
  const configuration = parseConfiguration(text, { file: 'quayside.yaml', env: {}, platform: 'linux' });
  const sighted = async (name: string): Promise<SightedVolume> => {
    const all = await presentVolumes({ roots: [root], folders: true });
    const found = all.find(({ mount }) => mount.path === join(root, name));
    if (found === undefined) throw new Error(`${name} is not there`);
    return found;
  };
  return {
    folder,
    root,
    socket: redis.address.kind === 'socket' ? redis.address.path : '',
    store,
    queue,
    configuration,
    lines: [],
    sighted,
    async insert(label) {
      await mkdir(join(root, label, 'CLIPS'), { recursive: true });
      await writeFile(join(root, label, 'CLIPS', 'a.mov'), label);
      await writeFolderVolumeMarker(join(root, label), { label });
      return sighted(label);
    },
  };
}

/** A desk as the watcher has one, stopped when the test is over; `store` may be one that listens in. */
export function openDesk(studio: Studio, store: Store = studio.store): { desk: VolumeDesk; stop: () => Promise<void> } {
  const stopping = new AbortController();
  const log = (sentence: string): void => void studio.lines.push(sentence);
  const desk = new VolumeDesk({ ...studio, store, log, signal: stopping.signal });
  const stop = async (): Promise<void> => {
    stopping.abort();
    await desk.settled();
  };
  onTestFinished(stop);
  return { desk, stop };
}

/** Passes everything on to the desk that is seen below the root, as the watcher does. */
export function watch({ root }: Studio, desk: VolumeDesk): void {
  const over = new AbortController();
  const watching = (async () => {
    for await (const change of watchVolumes({ roots: [root], folders: true, intervalMs: 50, signal: over.signal })) {
      if (change.kind === 'left') await desk.left(change.volume);
      else await desk.appeared(change.volume);
    }
  })();
  onTestFinished(async () => {
    over.abort();
    await watching;
  });
}

/** Waits until it holds; the test's own time limit ends it. */
export async function eventually(holds: () => Promise<boolean>): Promise<void> {
  while (!(await holds())) await pause(10);
}

export async function untilStanding({ store }: Studio, key: string, standing: string): Promise<void> {
  await eventually(async () => (await store.volume(key))?.standing === standing);
}

/** Takes a settled volume through the real state machine to a roll that is clear, as the worker would. */
export async function makeClear({ store, queue }: Studio, key: string): Promise<void> {
  const [volume, listing] = [await store.volume(key), await store.listing(key)];
  if (volume?.mount == null || listing === null) throw new Error('the volume has not settled');
  const now = new Date().toISOString();
  const roll = {
    id: 'wheel-1',
    shootId: '2026-05-04',
    recorder: 'wheel',
    role: 'camera' as const,
    volume: volume.identity,
    mount: volume.mount,
    fingerprint: fingerprintOf(listing),
    litterCount: 0,
    facts: 'read' as const,
    parcels: [{ firstPath: 'CLIPS/a.mov', fileCount: 1, sizeInBytes: 5 }],
    destinations: { primary: null },
    findings: [],
  };
  const [visit, parcel, destination] = [1, 0, 'primary'];
  const clearance = { verdict: 'clear' as const, judgedAt: now, cautions: [] };
  for (const event of [
    { type: 'listed', roll },
    { type: 'parcelStarted', visit, parcel, destinations: [destination] },
    { type: 'parcelCopied', visit, parcel, outcome: { [destination]: null }, findings: [] },
    { type: 'parcelReadBack', visit, parcel, destination, failure: null, findings: [] },
    { type: 'sealed', visit, destination, attempt: 0, generation: 1 },
    { type: 'judged', due: 1, clearance, findings: [] },
  ] as const)
    await applyRollEvent({ store, queue }, roll.id, { event, now });
  await store.noteRollOfVolume(key, roll.id);
  if (!(await isShownClear(store, key))) throw new Error('the roll did not become clear');
}

/** What a person is told of a connected drive, by the words of the status: a settled drive with the verdict of its roll. */
export async function isShownClear(store: Store, key: string): Promise<boolean> {
  const volume = await store.volume(key);
  const roll = await store.roll(volume?.rollId ?? '');
  return volume?.standing === 'settled' && roll !== null && roll.mount !== null && roll.clearance.verdict === 'clear';
}

import { execFileSync } from 'node:child_process';
import { mkdir, mkdtemp, realpath, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { parseConfiguration } from '@quayside/configuration';
import { openQueue, openStore, type RedisAddress, startRedis } from '@quayside/job-queue';
import { createFootage, fingerprintOf, listVolume } from '@quayside/media-files';
import type { Mount, Volume, VolumeListing } from '@quayside/shoot';
import { onTestFinished } from 'vitest';
import { DestinationBook } from './destinations/destination-book.ts';
import type { IntakeParts } from './intake/intake-parts.ts';

/** A worker's surroundings: a Redis of its own, two destination folders, and a folder as a drive. All gone when the test is over. */
export interface Workplace extends IntakeParts {
  readonly folder: string;
  readonly drive: string;
  readonly address: RedisAddress;
  destination(name: string): string;
  readonly redisSocket: string;
  /** Loses everything that is in Redis. */
  loseRedis(): Promise<void>;
  /** A book as a worker has it that was started anew. */
  bookAfterRestart(): DestinationBook;
  /** Lays files on the drive and shows it to the store as the watcher does. Gives the fingerprint of its content. */
  plug(files: Readonly<Record<string, string>>, change?: Partial<Volume>): Promise<string>;
}

export const VOLUME_KEY = 'uuid-1a2b3c4d';

export async function openWorkplace({
  keepFreeBytes = 0,
  more = '',
}: {
  readonly keepFreeBytes?: number;
  /** Further keys of the configuration, as YAML. */
  readonly more?: string;
} = {}): Promise<Workplace> {
  const folder = await realpath(await mkdtemp(join(tmpdir(), 'quayside-worker-')));
  const redis = await startRedis({ dataFolder: join(folder, 'data'), log: () => undefined });
  const redisSocket = redis.address.kind === 'socket' ? redis.address.path : '';
  const store = await openStore(redis.address);
  const queue = await openQueue(redis.address);
  const footage = createFootage({ parallelPerDestination: () => 1 });
  onTestFinished(async () => {
    await footage.close();
    await queue.close();
    await store.close();
    await redis.stop();
    await rm(folder, { recursive: true, force: true });
  });
  const destination = (name: string): string => join(folder, 'destinations', name);
  for (const path of [join(folder, 'drive'), destination('primary'), destination('backup')])
    await mkdir(path, { recursive: true });
  const configuration = parseConfiguration(
    `data: ${join(folder, 'data')}
recorders: { wheel: { role: camera, match: [{ label: WHEEL }] } }
destinations:
  - { name: primary, path: ${destination('primary')}, keepFreeBytes: ${keepFreeBytes} }
  - { name: backup, path: ${destination('backup')}, keepFreeBytes: 0 }
${more}`,
    { file: 'quayside.yaml', env: {}, platform: 'linux' },
  );
  const drive = join(folder, 'drive');
  const makeBook = (): DestinationBook => new DestinationBook({ store, configuration });
  return {
    folder,
    drive,
    address: redis.address,
    store,
    queue,
    configuration,
    book: makeBook(),
    isAnswering: footage.isAnswering,
    destination,
    bookAfterRestart: makeBook,
    redisSocket,
    async loseRedis() {
      execFileSync('redis-cli', ['-s', redisSocket, 'flushall']);
    },
    async plug(files, change = {}) {
      for (const [path, content] of Object.entries(files)) {
        await mkdir(dirname(join(drive, path)), { recursive: true });
        await writeFile(join(drive, path), content);
      }
      const listing = await listVolume(drive, { litter: [] });
      await store.saveVolume({ ...volumeAt(drive, listing), ...change });
      await store.saveListing(VOLUME_KEY, listing);
      return fingerprintOf(listing);
    },
  };
}

/** A mount of the drive, as the kernel's table tells of it. */
export function mountAt(path: string, mountId = '41'): Mount {
  return { path, mountId, device: '8:17' };
}

function volumeAt(path: string, { files, litterCount }: VolumeListing): Volume {
  return {
    identity: {
      key: VOLUME_KEY,
      basis: 'uuid',
      uuid: '1A2B-3C4D',
      serial: null,
      label: 'WHEEL',
      fileSystem: 'exfat',
      sizeInBytes: 64_000_000_000,
    },
    mount: mountAt(path),
    standing: 'settled',
    recorder: 'wheel',
    rollId: null,
    fileCount: files.length,
    sizeInBytes: files.reduce((sum, file) => sum + file.sizeInBytes, 0),
    litterCount,
    why: null,
    seenAt: new Date().toISOString(),
  };
}

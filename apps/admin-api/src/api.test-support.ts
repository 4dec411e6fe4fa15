import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openQueue, openStore, type RunningRedis, type RunQueue, startRedis, type Store } from '@quayside/job-queue';
import { type Configuration, parseConfiguration } from '@quayside/configuration';
import { deliveryReader } from '@quayside/message-journal';
import { advance, type RollEvent } from '@quayside/pipeline';
import type { Roll, Volume } from '@quayside/shoot';
import type { ApiParts } from './api-parts.ts';
import { openTokenBook } from './access/token-book.ts';
import { openAuditLog } from './audit/audit-log.ts';
import { buildApi } from './build-api.ts';

export const TOKEN = 'a-token-of-the-tests-0123456789-abcdefghijk';
export const NOW = '2026-03-01T10:00:00.000Z';

/** As an operator would write it; destinations lie below the folder of the test. */
function configurationOf(folder: string, api: ApiSettings): Configuration {
  const text = JSON.stringify({
    data: folder,
    recorders: { wheel: { role: 'camera', match: [] }, desk: { role: 'sound', match: [] } },
    destinations: ['primary', 'backup'].map((name) => ({ name, path: join(folder, name), keepFreeBytes: 0 })),
    proxies: { approval: 'required' },
    messages: {
      webhook: { planning: { url: 'https://plan.example.org/hooks/T0PSECRET', secret: { env: 'HOOK' } } },
      command: { bell: { command: ['/bin/ring', '--with=T0PSECRET'] } },
    },
    api,
  });
  return parseConfiguration(text, { file: 'quayside.yaml', env: {}, platform: 'linux' });
}

type ApiSettings = Partial<Configuration['api']>;

/** A test is about what is answered, and goes on however busy the machine is. */
const PATIENCE_MS = 60_000;

/** A real API on a real Redis of its own; `await using` ends both. */
export interface TestApi extends AsyncDisposable {
  readonly url: string;
  readonly store: Store;
  readonly queue: RunQueue;
  readonly redis: RunningRedis;
  get(path: string, headers?: Record<string, string>): Promise<Response>;
  post(path: string, body?: unknown): Promise<Response>;
  /** A folder of this API alone; destinations lie below it by their name. */
  readonly folder: string;
  close(): Promise<void>;
}

/** Serves no status page unless it is told the folder of one. */
export async function startTestApi({
  page,
  audit,
  answerWithinMs = PATIENCE_MS,
  ...settings
}: ApiSettings & Partial<Pick<ApiParts, 'page' | 'audit' | 'answerWithinMs'>> = {}): Promise<TestApi> {
  const folder = await mkdtemp(join(tmpdir(), 'quayside-api-'));
  const redis = await startRedis({ dataFolder: folder, log: () => undefined });
  const [store, queue] = await Promise.all([openStore(redis.address), openQueue(redis.address)]);
  const app = await buildApi(
    {
      store,
      queue,
      configuration: configurationOf(folder, settings),
      tokens: openTokenBook(folder, { token: TOKEN, now: () => NOW }),
      audit: audit ?? openAuditLog(join(folder, 'audit.jsonl')),
      answerWithinMs,
      deliveries: deliveryReader(join(folder, 'messages.jsonl')),
      cautions: [],
      now: () => NOW,
      page,
    },
    { logs: false },
  );
  const url = await app.listen({ host: '127.0.0.1', port: 0 });
  const authorization = `Bearer ${TOKEN}`;
  return {
    url,
    folder,
    store,
    queue,
    redis,
    get: (path, headers = {}) => fetch(url + path, { headers: { authorization, ...headers } }),
    post: (path, body) =>
      fetch(url + path, {
        method: 'POST',
        headers: body === undefined ? { authorization } : { authorization, 'content-type': 'application/json' },
        ...(body === undefined ? {} : { body: typeof body === 'string' ? body : JSON.stringify(body) }),
      }),
    close: () => app.close(),
    async [Symbol.asyncDispose]() {
      await app.close();
      await Promise.all([queue.close(), store.close()]);
      await redis.stop();
      await rm(folder, { recursive: true });
    },
  };
}

const IDENTITY = {
  key: 'exfat-1a2b-3c4d',
  basis: 'uuid',
  uuid: '1A2B-3C4D',
  serial: null,
  label: 'WHEEL',
  fileSystem: 'exfat',
  sizeInBytes: 64_000_000_000,
} as const;

const MOUNT = { path: '/media/WHEEL', mountId: '77', device: '8:17' };

/** A roll of two parcels (10 files, 3 GB; 1 file, 1 GB) for `primary` and `backup`, with what happened to it since. */
export async function addRoll(
  store: Store,
  { id = 'wheel-1', shootId = '2026-03-01' }: { id?: string; shootId?: string },
  events: readonly RollEvent[] = [],
): Promise<Roll> {
  const listed: RollEvent = {
    type: 'listed',
    roll: {
      id,
      shootId,
      recorder: 'wheel',
      role: 'camera',
      volume: IDENTITY,
      mount: MOUNT,
      fingerprint: 'f1',
      litterCount: 2,
      facts: 'read',
      parcels: [
        { firstPath: 'CLIPS/a.mov', fileCount: 10, sizeInBytes: 3_000_000_000 },
        { firstPath: 'CLIPS/k.mov', fileCount: 1, sizeInBytes: 1_000_000_000 },
      ],
      destinations: { primary: null, backup: null },
      findings: [],
    },
  };
  let last: Roll | null = null;
  for (const event of [listed, ...events]) {
    last = (await store.changeRoll(id, (roll) => advance(roll, event, NOW))).after;
  }
  if (last === null) throw new Error('no event was applied');
  return last;
}

export const FAILED_AT_BACKUP: RollEvent = {
  type: 'parcelCopied',
  visit: 1,
  parcel: 1,
  outcome: {
    primary: null,
    backup: { code: 'DISK_FULL', sentence: 'Destination backup is full. Make room.', retry: 'destination' },
  },
  findings: [],
};

export function volume(change: Partial<Volume> = {}): Volume {
  return {
    identity: IDENTITY,
    mount: MOUNT,
    standing: 'settled',
    recorder: null,
    rollId: null,
    fileCount: 11,
    sizeInBytes: 4_000_000_000,
    litterCount: 2,
    why: null,
    seenAt: NOW,
    ...change,
  };
}

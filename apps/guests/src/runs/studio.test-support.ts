import { execFileSync } from 'node:child_process';
import { mkdir, mkdtemp, realpath, rename, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { GuestHost, GuestOutcome, GuestRun, RunControls } from '@quayside/guest-host';
import { openStore, startRedis, type Store } from '@quayside/job-queue';
import { prepareDestination } from '@quayside/media-files';
import { advance, orderSteps, type RollEvent } from '@quayside/pipeline';
import { type GuestRunSummary, PluginDescription, rollFolder, type Shoot } from '@quayside/shoot';
import { onTestFinished } from 'vitest';
import type { LoadedPlugins } from '../plugins/load-plugins.ts';
import { ShootKeeper } from './shoot-keeper.ts';

export const NOW = '2026-05-04T10:00:00.000Z';
const CLIPS = ['CLIPS/a.mov', 'CLIPS/b.mov'] as const;
const NAMES = ['primary', 'backup'] as const;

/** A run that a step makes and that ends when the test says so. */
export interface HeldRun {
  readonly run: GuestRun;
  readonly controls: RunControls;
  end(outcome?: Partial<GuestOutcome>): void;
}

/**
 * A keeper of shoots on a real Redis and real destinations, with a shoot of one proven roll of two clips. Only the host is
 * none: its runs end when the test says so, or when they are stopped; that real ones do is shown by the host's own tests.
 */
export class Studio {
  readonly folder: string;
  readonly store: Store;
  readonly held: HeldRun[] = [];
  readonly ended: GuestRunSummary[] = [];
  /** What the log was told. */
  readonly told: string[] = [];
  readonly #socket: string;
  #stopping = new AbortController();
  #keepers: ShootKeeper[] = [];
  shoot: Shoot = { id: 'class', name: 'Pottery class', openedAt: NOW, closedAt: null, named: true };

  private constructor(folder: string, store: Store, socket: string) {
    this.folder = folder;
    this.store = store;
    this.#socket = socket;
  }

  static async open(): Promise<Studio> {
    const folder = await realpath(await mkdtemp(join(tmpdir(), 'quayside-keeper-')));
    const redis = await startRedis({ dataFolder: join(folder, 'data'), log: () => undefined });
    const store = await openStore(redis.address);
    const studio = new Studio(folder, store, redis.address.kind === 'socket' ? redis.address.path : '');
    onTestFinished(async () => {
      await studio.endService();
      await store.close();
      await redis.stop();
      await rm(folder, { recursive: true, force: true });
    });
    const remembered: Record<string, { id: string; path: string }> = {};
    for (const name of NAMES) {
      await mkdir(studio.destination(name), { recursive: true });
      const { id } = await prepareDestination(studio.destination(name), name);
      remembered[name] = { id, path: studio.destination(name) };
    }
    await writeFile(join(folder, 'data/destinations.json'), JSON.stringify(remembered));
    await studio.prove();
    return studio;
  }

  destination(name: string): string {
    return join(this.folder, name);
  }

  /** Takes a destination away, or brings it back. */
  async unplug(name: string): Promise<void> {
    await rename(this.destination(name), join(this.folder, `${name} on a shelf`));
  }

  async plugIn(name: string): Promise<void> {
    await rename(join(this.folder, `${name} on a shelf`), this.destination(name));
  }

  /** Everything that is in Redis is lost, and all but what guests' steps gave is known again. */
  async loseRedis(): Promise<void> {
    execFileSync('redis-cli', ['-s', this.#socket, 'flushall']);
    await this.prove();
  }

  /** Proves the roll at both destinations, as a service that has just read its records knows it. */
  async prove(): Promise<void> {
    await this.store.saveShoot(this.shoot);
    const recorded = {
      id: 'wheel-1',
      shootId: this.shoot.id,
      recorder: 'wheel',
      role: 'camera' as const,
      volume: VOLUME,
      visit: 2,
      fingerprint: 'all of it',
      openedAt: NOW,
      sealedAt: NOW,
      repairLimit: 2,
      parcels: [{ firstPath: CLIPS[0], fileCount: 2, sizeInBytes: 20, provenAt: NAMES }],
      destinations: Object.fromEntries(NAMES.map((name) => [name, { generation: 1, readBackAt: NOW }])),
    };
    const files = CLIPS.map((path) => ({ path, sizeInBytes: 10, modifiedMs: 0 }));
    await this.store.saveParcels('wheel-1', 2, [files]);
    await this.store.saveFacts(
      'wheel-1',
      files.map((file) => ({ ...file, facts: FACTS })),
    );
    for (const name of NAMES) {
      const copies = CLIPS.map((path) => [
        path,
        { state: 'verified', storedPath: path, digests: { xxh128: 'd' }, method: 'direct' },
      ]);
      await this.store.noteCopies('wheel-1', name, Object.fromEntries(copies));
    }
    const { after } = await this.store.changeRoll('wheel-1', () =>
      advance(null, { type: 'recordFound', record: recorded }, NOW),
    );
    for (const name of NAMES) await mkdir(join(this.destination(name), rollFolder(after)), { recursive: true });
  }

  /** The drive is back, by default with something more on it: then the roll is not proven any more. */
  async reconnect({ isMore = true } = {}): Promise<void> {
    const mount = { path: '/media/wheel', mountId: '40', device: '8:17' };
    const listed = {
      id: 'wheel-1',
      shootId: this.shoot.id,
      recorder: 'wheel',
      role: 'camera' as const,
      volume: VOLUME,
      mount,
      fingerprint: 'more than that',
      litterCount: 0,
      facts: 'read' as const,
      parcels: [{ firstPath: CLIPS[0], fileCount: 3, sizeInBytes: 30 }],
      destinations: { primary: null, backup: null },
      findings: [],
    };
    const event: RollEvent = isMore ? { type: 'listed', roll: listed } : { type: 'volumeReturned', mount };
    await this.store.changeRoll('wheel-1', (roll) => advance(roll, event, NOW));
  }

  /** All that is on the drive now is copied, proven, sealed and judged. */
  async proveAgain(): Promise<void> {
    const files = [...CLIPS, 'CLIPS/c.mov'].map((path) => ({ path, sizeInBytes: 10, modifiedMs: 0 }));
    const { visit = 0, judgementDue = 0 } = (await this.store.roll('wheel-1')) ?? {};
    await this.store.saveParcels('wheel-1', visit, [files]);
    const events: RollEvent[] = [
      { type: 'parcelStarted', visit, parcel: 0, destinations: NAMES },
      { type: 'parcelCopied', visit, parcel: 0, outcome: { primary: null, backup: null }, findings: [] },
      ...NAMES.map((destination): RollEvent => {
        return { type: 'parcelReadBack', visit, parcel: 0, destination, failure: null, findings: [] };
      }),
      ...NAMES.map((destination): RollEvent => {
        return { type: 'sealed', visit, destination, attempt: 0, generation: 2, readBackAt: NOW };
      }),
      { type: 'judged', due: judgementDue, clearance: { verdict: 'clear', judgedAt: NOW, cautions: [] }, findings: [] },
    ];
    await this.store.changeRoll('wheel-1', (roll) => {
      if (roll === null) throw new Error('There is no roll to prove.');
      return events.reduce((now, event) => advance(now, event, NOW), roll);
    });
  }

  async moveTo(shootId: string): Promise<void> {
    this.shoot = { ...this.shoot, id: shootId };
    await this.store.saveShoot(this.shoot);
    const { after } = await this.store.changeRoll('wheel-1', (roll) => advance(roll, { type: 'moved', shootId }, NOW));
    for (const name of NAMES) await mkdir(join(this.destination(name), rollFolder(after)), { recursive: true });
  }

  /** As a service ends; the next keeper is another service's. */
  async endService(): Promise<void> {
    this.#stopping.abort();
    await Promise.all(this.#keepers.map((keeper) => keeper.close()));
    this.#keepers = [];
    this.#stopping = new AbortController();
  }

  /** A keeper as a service that has just started has it. */
  keeper(plugins: LoadedPlugins): ShootKeeper {
    const keeper = new ShootKeeper({
      store: this.store,
      host: this.#host(),
      configuration: {
        data: join(this.folder, 'data'),
        destinations: NAMES.map((name) => ({ name, path: this.destination(name), parallel: 1, keepFreeBytes: 0 })),
        proxies: { approval: 'none' },
      },
      loaded: plugins,
      log: (sentence) => void this.told.push(sentence),
      signal: this.#stopping.signal,
      onEnd: async (_shootId, run) => void this.ended.push(run),
    });
    this.#keepers.push(keeper);
    return keeper;
  }

  /** What the API would list: the runs by their subjects. */
  async runs(): Promise<Readonly<Record<string, string>>> {
    const runs = await this.store.guestRuns(this.shoot.id);
    return Object.fromEntries(
      runs.map(({ step, subject, state, why }) => [`${step} ${subject.id}`, `${state}: ${why}`]),
    );
  }

  async waits(): Promise<Readonly<Record<string, string>>> {
    const waits = await this.store.guestWaits(this.shoot.id);
    return Object.fromEntries(waits.map(({ step, subject, why }) => [`${step} ${subject.id}`, why]));
  }

  #host(): GuestHost {
    return {
      describe: () => Promise.reject(new Error('Nothing is described here.')),
      letGoOf: async () => undefined,
      close: async () => undefined,
      run: async (run, controls) => {
        const { promise, resolve } = Promise.withResolvers<GuestOutcome>();
        const log = { head: [], droppedLines: 0, tail: [] };
        const end: HeldRun['end'] = (outcome = {}) => {
          const ended = { state: 'done', output: null, findings: [], log, ...outcome } as GuestOutcome;
          resolve(ended);
        };
        controls.signal.addEventListener('abort', () => end({ state: 'cancelled' }));
        this.held.push({ run, controls, end });
        return promise;
      },
    };
  }
}

/** Plugins as they are when they have been loaded; each step by its name, with what differs from a step on clips. */
export function pluginsOf(
  steps: Readonly<Record<string, Partial<PluginDescription['steps'][number]>>>,
  { version = '1', parallel = 8 }: { readonly version?: string; readonly parallel?: number } = {},
): LoadedPlugins {
  const plugin = PluginDescription.parse({
    apiVersion: 1,
    name: 'sheet',
    version,
    description: null,
    steps: Object.entries(steps).map(([name, step]) => ({
      name,
      scope: 'roll',
      description: null,
      after: [],
      asks: [],
      secrets: [],
      limits: {},
      ...step,
    })),
  });
  const source = { use: './sheet.ts', entry: '/sheet.ts', readable: [], state: version };
  const loaded = { source, plugin, grants: [], config: {}, secrets: {}, parallel, makesWay: true };
  const ordered = orderSteps([{ plugin, grants: [], secrets: [] }]);
  return {
    steps: ordered.steps,
    plugins: new Map([['sheet', loaded]]),
    configs: new Map(ordered.steps.map(({ fullName }) => [fullName, 'as it is'])),
    standings: [{ use: source.use, isOn: true, grants: [], plugin, failure: ordered.faults[0]?.failure ?? null }],
  };
}

const VOLUME = {
  key: 'uuid-1',
  basis: 'uuid' as const,
  uuid: '1A2B-3C4D',
  serial: null,
  label: 'WHEEL',
  fileSystem: 'exfat',
  sizeInBytes: 1_000_000,
};

const FACTS = {
  kind: 'picture' as const,
  container: 'MPEG-4',
  durationMs: 1000,
  picture: null,
  startTimecode: '10:00:00:00',
  sound: [],
  wave: null,
  device: { make: null, model: null, serial: null },
  reel: null,
  created: null,
  damage: [],
};

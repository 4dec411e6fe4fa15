import { mkdir, open, readFile, rm } from 'node:fs/promises';
import { loadavg } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { folderVolumeMarker, writeFolderVolumeMarker } from '@quayside/volumes';
import { Service } from '../../service/start-service.ts';
import { processesBelow } from '../../service/service-processes.ts';
import type { BenchWork } from '../bench-work.ts';
import { seedRolls } from '../idle/seed-rolls.ts';
import { releaseAtInterrupt } from '../release-at-interrupt.ts';
import { highestOf, medianOf, type Row } from '../row.ts';
import { eventsUntil, timeOf } from '../service/events-until.ts';
import { listen } from './listen.ts';
import { sendSteadily, type Sent } from './send-steadily.ts';

const [SHOOTS, ROLLS, CLIPS] = [200, 2000, 100_000];
const PER_SECOND = 200;
const STREAMS = 100;
const WITHIN_MS = 30 * 60_000;
/** Of the large file; what one drive holds. */
const DRIVE_SHARE = 1 / 4;

/**
 * What it is to ask the service two hundred times a second while it knows a hundred thousand clips and takes a drive in: how long
 * answers take, what becomes of the ingest, how soon an event arrives, and what a hundred listeners cost.
 */
export async function benchApiLoad({ folder, options, say }: BenchWork): Promise<readonly Row[]> {
  const own = join(folder, 'api-load');
  const bay = join(own, 'bay');
  const destinations = ['primary', 'backup'].map((name) => ({ name, path: join(own, name), keepFreeBytes: 0 }));
  for (const path of [bay, ...destinations.map((one) => one.path)]) await mkdir(path, { recursive: true });
  say(`api-load: writing ${SHOOTS} shoots of ${ROLLS} rolls and ${CLIPS} clips into the service's view ...`);
  await seedRolls({
    dataFolder: join(own, 'data'),
    destinations: destinations.map(({ name }) => name),
    rolls: ROLLS,
    clipsPerRoll: CLIPS / ROLLS,
    rollsPerShoot: ROLLS / SHOOTS,
  });
  const service = await Service.start({
    folder: own,
    configuration: {
      watch: { roots: [bay], settleSeconds: 0.5, folders: true, litter: [folderVolumeMarker] },
      recorders: { wheel: { role: 'camera', match: [{ label: 'DRIVE*' }] } },
      destinations,
      sameDevice: 'accept',
      cachedReadBack: 'accept',
      // The seeded rolls lie nowhere, and no plans were seeded: two hundred shoots would be planned first.
      verify: { everyDays: null },
      proxies: { plan: false },
    },
  });
  const callOff = releaseAtInterrupt(() => service.stop());
  const at = { port: service.port, token: (await readFile(join(service.data, 'token'), 'utf8')).trim() };
  try {
    const paths = await pathsOf(service);
    const takeIn = (number: number): Promise<number> =>
      plugIn(service, { bay, number, sizeInBytes: options.sizeInBytes * DRIVE_SHARE });
    const rounds: Round[] = [];
    await takeIn(0);
    for (let round = 1; round <= options.repeat; round += 1) {
      const quiet = await takeIn(round * 2 - 1);
      const stop = new AbortController();
      const sending = sendSteadily({ ...at, paths, perSecond: PER_SECOND }, stop.signal);
      const loaded = await takeIn(round * 2);
      stop.abort();
      rounds.push({ ratio: quiet / loaded, sent: await sending });
      say(`api-load: round ${round}: the drive took ${quiet.toFixed(1)} s, ${loaded.toFixed(1)} s beside requests`);
      for (const [path, latencies] of rounds.at(-1)?.sent.latencies ?? [])
        say(
          `  ${percentile(latencies, 0.5).toFixed(1)} ms, ${percentile(latencies, 0.99).toFixed(1)} ms (p50, p99)  ${path}`,
        );
    }
    const arrivals = await measureArrival(service, at);
    return rowsOf({ rounds, arrivals, streams: await measureStreams(service, at) });
  } finally {
    await service.stop();
    callOff();
    await rm(own, { recursive: true, force: true });
  }
}

interface Round {
  /** The rate of the ingest beside requests, as a share of the rate without. */
  readonly ratio: number;
  readonly sent: Sent;
}

/** Lists and details, as a page and a script ask for them. */
async function pathsOf(service: Service): Promise<readonly string[]> {
  const list = async (): Promise<readonly { id: string; shootId: string }[] | null> =>
    service.get<{ rolls: readonly { id: string; shootId: string }[] }>('/v1/rolls?limit=500').then(
      ({ rolls }) => rolls,
      () => null,
    );
  // The first look reads every roll; on a busy machine Redis may take too long for it.
  const rolls = await service.until('the rolls can be listed', list, 120_000);
  const roll = rolls.at(-1);
  const shoot = `/v1/shoots/${roll?.shootId}`;
  return [
    '/v1/rolls',
    '/v1/shoots',
    `/v1/rolls/${roll?.id}`,
    shoot,
    `${shoot}/clips`,
    `${shoot}/groups`,
    '/v1/volumes?connected=true',
  ];
}

/** Plugs a folder volume in, and gives the seconds from its listing to its verdict. */
async function plugIn(
  service: Service,
  { bay, number, sizeInBytes }: { readonly bay: string; readonly number: number; readonly sizeInBytes: number },
): Promise<number> {
  const drive = join(bay, `DRIVE${number}`);
  const { events } = await service.get<{ events: readonly { id: string }[] }>('/v1/events/list?limit=1000');
  let after = events.at(-1)?.id ?? '0';
  for (let more = events.length === 1000; more;) {
    const page = await service.get<{ events: readonly unknown[]; next: string }>(
      `/v1/events/list?limit=1000&after=${after}`,
    );
    more = page.events.length > 0;
    after = page.next;
  }
  await mkdir(drive, { recursive: true });
  for (const name of ['a.mov', 'b.mov']) {
    await using file = await open(join(drive, name), 'w');
    await file.truncate(Math.floor(sizeInBytes / 2));
  }
  await writeFolderVolumeMarker(drive, { label: `DRIVE${number}` });
  const told = await eventsUntil(service, ['roll.clear', 'roll.hold'], { after, withinMs: WITHIN_MS });
  const verdict = told.at(-1);
  if (verdict?.type !== 'roll.clear') throw new Error(`The roll is not clear: ${verdict?.sentence}`);
  await rm(drive, { recursive: true });
  return (timeOf(told, 'roll.clear') - timeOf(told, 'roll.listed')) / 1000;
}

interface Address {
  readonly port: number;
  readonly token: string;
}

/** Milliseconds from asking for a shoot to be opened to hearing of it. */
async function measureArrival(service: Service, { port, token }: Address): Promise<readonly number[]> {
  const listener = await listen(port, token);
  const samples: number[] = [];
  for (let number = 0; number < 30; number += 1) {
    const heard = listener.hear(`shoot-${number}`);
    const askedMs = performance.now();
    await service.post('/v1/shoots', { name: `shoot-${number}` });
    samples.push((await heard) - askedMs);
    await wait(50);
  }
  listener.close();
  return samples;
}

/** What the API's process holds more of, in bytes, with so many streams open. */
async function measureStreams(service: Service, { port, token }: Address): Promise<number | null> {
  const api = (await processesBelow(service.pid)).find(({ name }) => name === 'API');
  if (api === undefined || process.platform !== 'linux') return null;
  const before = await residentBytes(api.pid);
  const listeners = await Promise.all(Array.from({ length: STREAMS }, () => listen(port, token)));
  for (let number = 0; number < 20; number += 1) await service.post('/v1/shoots', { name: `heard-${number}` });
  await wait(2000);
  const after = await residentBytes(api.pid);
  for (const listener of listeners) listener.close();
  return after - before;
}

async function residentBytes(pid: number): Promise<number> {
  return Number(/^VmRSS:\s+(\d+) kB$/m.exec(await readFile(`/proc/${pid}/status`, 'utf8'))?.[1]) * 1024;
}

function percentile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((one, other) => one - other);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0;
}

interface Measured {
  readonly rounds: readonly Round[];
  readonly arrivals: readonly number[];
  readonly streams: number | null;
}

function rowsOf({ rounds, arrivals, streams }: Measured): readonly Row[] {
  const known = `with ${SHOOTS} shoots, ${ROLLS} rolls and ${CLIPS} clips`;
  const slow = rounds.map(({ sent }) => percentile([...sent.latencies.values()].flat(), 0.99));
  const ratios = rounds.map(({ ratio }) => ratio);
  const failures = rounds.reduce((sum, { sent }) => sum + sent.failures, 0);
  const load = `load average ${(loadavg()[0] ?? 0).toFixed(1)}`;
  const bench = 'api-load' as const;
  return [
    {
      bench,
      what: `lists and details ${known}, ${PER_SECOND} a second beside an ingest, 99th percentile`,
      unit: 'ms',
      value: medianOf(slow),
      samples: slow,
      target: { sense: 'under', limit: 30 },
      notes: [`counted from when each was due; ${failures} failed; ${load}`],
    },
    {
      bench,
      what: 'the rate of that ingest beside the requests, to that without',
      unit: 'times',
      value: medianOf(ratios),
      samples: ratios,
      target: { sense: 'at least', limit: 0.97 },
      notes: [load],
    },
    {
      bench,
      what: 'from asking for a change to a listener hearing of it, the slowest of 30',
      unit: 'ms',
      value: highestOf(arrivals),
      samples: arrivals,
      target: { sense: 'under', limit: 100 },
      notes: [load],
    },
    {
      bench,
      what: `what ${STREAMS} open event streams cost`,
      unit: 'MB',
      value: streams === null ? null : streams / 1e6,
      samples: streams === null ? [] : [streams / 1e6],
      target: { sense: 'under', limit: 50 },
      notes: streams === null ? ['/proc is had on Linux only'] : ['resident memory of the API’s process'],
    },
  ];
}

import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { openStore, startRedis } from '@quayside/job-queue';
import { rollFolder } from '@quayside/shoot';
import { Service } from '../../service/start-service.ts';
import type { BenchWork } from '../bench-work.ts';
import { seedRolls } from '../idle/seed-rolls.ts';
import { megabytes } from '../processes/memory-row.ts';
import { releaseAtInterrupt } from '../release-at-interrupt.ts';
import type { Row } from '../row.ts';
import { recordCounter } from './count-records.ts';
import { layNoOpPlugin } from './no-op-plugin.ts';
import { processorMs, residentBytes } from './processor-time.ts';

const ROLLS = 20;
const CLIPS_PER_ROLL = 500;
const CLIPS = ROLLS * CLIPS_PER_ROLL;
const PASSES = 10;
/** The first hundred runs start the process and warm it. */
const WARM_UP = 100;
/** For all runs of one pass, on the slowest machine that is of any use. */
const PASS_WITHIN_MS = 20 * 60_000;

interface Pass {
  readonly perSecond: number;
  readonly cpuMs: number;
  readonly memory: number;
}

/**
 * A step that does nothing over ten thousand proven clips, by the whole service on a real Redis, each run on record at both
 * destinations; then nine times more in other versions, to see whether memory grows.
 */
export async function measureEngine({ folder, say }: BenchWork): Promise<readonly Row[]> {
  const own = join(folder, 'engine');
  const destinations = ['primary', 'backup'].map((name) => ({ name, path: join(own, name), keepFreeBytes: 0 }));
  for (const path of [join(own, 'bay'), ...destinations.map((one) => one.path)]) await mkdir(path, { recursive: true });
  say(`guests: writing ${ROLLS} rolls of ${CLIPS_PER_ROLL} clips into the service's view ...`);
  const [dataFolder, names] = [join(own, 'data'), destinations.map(({ name }) => name)];
  await seedRolls({ dataFolder, destinations: names, rolls: ROLLS, clipsPerRoll: CLIPS_PER_ROLL });
  await makeRollFolders(
    dataFolder,
    destinations.map(({ path }) => path),
  );
  await layNoOpPlugin(own);
  const service = await Service.start({
    folder: own,
    configuration: {
      watch: { roots: [join(own, 'bay')] },
      destinations,
      sameDevice: 'accept',
      proxies: { plan: false },
      plugins: [{ use: './no-op.ts' }],
    },
  });
  const callOff = releaseAtInterrupt(() => service.stop());
  try {
    const counted = recordCounter(destinations[0]?.path ?? '', 'no-op');
    const passes: Pass[] = [];
    for (let number = 1; number <= PASSES; number += 1) {
      if (number > 1) await layNoOpPlugin(own, number);
      const pass = await measurePass(service, { counted, upTo: number * CLIPS });
      passes.push(pass);
      say(
        `guests: pass ${number} of ${PASSES}: ${pass.perSecond.toFixed(0)} runs a second, ${megabytes(pass.memory).toFixed(0)} MB`,
      );
    }
    return rowsOf(passes);
  } finally {
    await service.stop();
    callOff();
    await rm(own, { recursive: true, force: true });
  }
}

async function makeRollFolders(dataFolder: string, roots: readonly string[]): Promise<void> {
  const redis = await startRedis({ dataFolder, log: () => undefined });
  const store = await openStore(redis.address);
  try {
    for (const roll of await store.rolls())
      for (const root of roots) await mkdir(join(root, rollFolder(roll)), { recursive: true });
  } finally {
    await store.close();
    await redis.stop();
  }
}

async function measurePass(
  service: Service,
  { counted, upTo }: { readonly counted: () => Promise<number>; readonly upTo: number },
): Promise<Pass> {
  const reach = (count: number): Promise<number> =>
    service.until(
      `${count} runs are on record`,
      async () => {
        await wait(100);
        const now = await counted();
        return now >= count ? now : null;
      },
      PASS_WITHIN_MS,
    );
  const first = await reach(upTo - CLIPS + WARM_UP);
  const [startedAt, before] = [performance.now(), await processorOf(service)];
  const last = await reach(upTo);
  const seconds = (performance.now() - startedAt) / 1000;
  const runs = last - first;
  const memory = await memoryOf(service);
  return { perSecond: runs / seconds, cpuMs: ((await processorOf(service)) - before) / runs, memory };
}

/** Of the process that decides, keeps and hosts, and of those of the steps. */
async function processorOf(service: Service): Promise<number> {
  const parts = (await service.processes()).filter(({ name }) => name === 'guests' || name === 'guest');
  const times = await Promise.all(parts.map(({ pid }) => processorMs(pid).catch(() => 0)));
  return times.reduce((sum, one) => sum + one, 0);
}

async function memoryOf(service: Service): Promise<number> {
  const [guests] = (await service.processes()).filter(({ name }) => name === 'guests');
  if (guests === undefined) throw new Error('The process that runs guests is not there.');
  return residentBytes(guests.pid);
}

function rowsOf(passes: readonly Pass[]): readonly Row[] {
  const [first] = passes;
  const last = passes.at(-1);
  if (first === undefined || last === undefined) return [];
  const bench = 'guests' as const;
  const notes = [`${ROLLS} rolls of ${CLIPS_PER_ROLL} clips, each run on record at two destinations`];
  return [
    {
      bench,
      what: 'a no-op step over 10,000 clips by the whole service',
      unit: '/s',
      value: first.perSecond,
      samples: [],
      target: { sense: 'at least', limit: 300 },
      notes: [
        ...notes,
        `the passes after it: ${passes
          .slice(1)
          .map(({ perSecond }) => perSecond.toFixed(0))
          .join(', ')}`,
      ],
    },
    {
      bench,
      what: 'the same, processor time of each run: the engine, the host and the steps, starting their processes included',
      unit: 'ms',
      value: first.cpuMs,
      samples: [],
      target: { sense: 'under', limit: 5 },
      notes: [],
    },
    {
      bench,
      what: 'memory of host and engine after 100,000 runs, beside after 10,000',
      unit: 'times',
      value: last.memory / first.memory,
      samples: [],
      target: { sense: 'at most', limit: 1.1 },
      notes: [`after each 10,000, in MB: ${passes.map(({ memory }) => megabytes(memory).toFixed(0)).join(', ')}`],
    },
  ];
}

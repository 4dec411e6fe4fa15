import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { canMountDrives } from '../../drives/can-mount-drives.ts';
import { Service } from '../../service/start-service.ts';
import type { BenchWork } from '../bench-work.ts';
import { openProcessGroup } from '../processes/open-process-group.ts';
import type { ProcessGroup } from '../processes/process-group.ts';
import { memoryOf, type MemoryUse } from '../processes/watch-memory.ts';
import { releaseAtInterrupt } from '../release-at-interrupt.ts';
import type { Row } from '../row.ts';
import { idleRows } from './idle-rows.ts';
import { measureSightings } from './measure-sighting.ts';
import { seedRolls } from './seed-rolls.ts';

const ROLLS = 1000;
const CLIPS_PER_ROLL = 80;
/** A service that has just started still tidies up after its start. */
const CALM_MS = 15_000;
const WATCH_MS = 30_000;
const SIGHTINGS = 5;

/** What the service costs while nothing happens, with a thousand known rolls, and how soon it is there and sees a drive. */
export async function benchIdle({ folder, options, say }: BenchWork): Promise<readonly Row[]> {
  const own = join(folder, 'idle');
  const bay = join(own, 'bay');
  const destinations = ['primary', 'backup'].map((name) => ({ name, path: join(own, name), keepFreeBytes: 0 }));
  for (const path of [bay, ...destinations.map((one) => one.path)]) await mkdir(path, { recursive: true });
  say(`idle: writing ${ROLLS} rolls of ${CLIPS_PER_ROLL} clips into the service's view ...`);
  await seedRolls({
    dataFolder: join(own, 'data'),
    destinations: destinations.map(({ name }) => name),
    rolls: ROLLS,
    clipsPerRoll: CLIPS_PER_ROLL,
  });
  await using group = await openProcessGroup();
  const enter = async <Value>(start: () => Promise<Value>): Promise<Value> => (group ? group.enter(start) : start());

  const firstStartedAt = performance.now();
  const service = await enter(() =>
    Service.start({
      folder: own,
      configuration: {
        watch: { roots: [bay] },
        destinations,
        sameDevice: 'accept',
        // A thousand rolls without a plan would be planned first; one that is made costs nothing afterwards.
        proxies: { plan: false },
      },
    }),
  );
  const firstStart = performance.now() - firstStartedAt;
  const callOff = releaseAtInterrupt(() => service.stop());
  try {
    const starts: number[] = [];
    for (let number = 1; number <= Math.max(options.repeat, 3); number += 1) {
      await service.stop();
      starts.push(await enter(() => measureStart(service)));
    }
    say(`idle: ready after ${starts.map((ms) => ms.toFixed(0)).join(', ')} ms; now watching it for a while ...`);
    const quiet = group === null ? null : await watchQuiet(group);
    const mounting = await canMountDrives();
    const sightings = mounting.ok ? await measureSightings({ service, folder: own, bay, times: SIGHTINGS }) : [];
    return idleRows({ quiet, starts, firstStart, sightings, whyNoSighting: mounting.reason });
  } finally {
    await service.stop();
    callOff();
    await rm(own, { recursive: true, force: true });
  }
}

/**
 * Milliseconds from the start of the process to an API that says that all is well. It is asked every 50 ms, so the truth
 * is up to that much better.
 */
async function measureStart(service: Service): Promise<number> {
  const startedAt = performance.now();
  await service.run();
  return performance.now() - startedAt;
}

async function watchQuiet(group: ProcessGroup): Promise<{ readonly percent: number; readonly memory: MemoryUse }> {
  await wait(CALM_MS);
  const before = await group.coreSeconds();
  await wait(WATCH_MS);
  const percent = ((await group.coreSeconds()) - before) / (WATCH_MS / 1000) / 0.01;
  return { percent, memory: await memoryOf(group) };
}

import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { runTool } from '../../drives/run-tool.ts';
import { Service } from '../../service/start-service.ts';
import type { BenchWork } from '../bench-work.ts';
import { openProcessGroup } from '../processes/open-process-group.ts';
import type { ProcessGroup } from '../processes/process-group.ts';
import { quietDisk } from '../measures/quiet-disk.ts';
import { releaseAtInterrupt } from '../release-at-interrupt.ts';
import { medianOf, type Row } from '../row.ts';
import { layRecords } from './lay-records.ts';

const ROLLS = 1000;
const CLIPS_PER_ROLL = 80;
const WITHIN_MS = 180_000;

/** How soon a service whose Redis is empty knows a thousand rolls again, from the records beside the footage. */
export async function benchRebuild({ folder, options, say }: BenchWork): Promise<readonly Row[]> {
  const own = join(folder, 'rebuild');
  const bay = join(own, 'bay');
  const destinations = ['primary', 'backup'].map((name) => ({ name, path: join(own, name), keepFreeBytes: 0 }));
  for (const path of [bay, ...destinations.map((one) => one.path)]) await mkdir(path, { recursive: true });
  say(`rebuild: writing the records of ${ROLLS} rolls of ${CLIPS_PER_ROLL} clips to two destinations ...`);
  await layRecords({ roots: destinations.map(({ path }) => path), rolls: ROLLS, clipsPerRoll: CLIPS_PER_ROLL });
  const configuration = {
    watch: { roots: [bay] },
    destinations,
    sameDevice: 'accept',
    proxies: { plan: false },
    // There is no footage to read again.
    verify: { everyDays: null },
  };
  await using group = await openProcessGroup();
  // The very first start, which fills the cache of compiled code, is not measured.
  const service = await Service.start({ folder: own, configuration });
  const callOff = releaseAtInterrupt(() => service.stop());
  try {
    await untilRead(service, 0);
    const recoveries: Recovery[] = [];
    for (let number = 1; number <= options.repeat; number += 1) {
      const recovery = await measureRecovery(service, group);
      recoveries.push(recovery);
      say(`rebuild: round ${number} of ${options.repeat}: all known after ${(recovery.tookMs / 1000).toFixed(1)} s`);
    }
    return rows(recoveries);
  } finally {
    await service.stop();
    callOff();
    await rm(own, { recursive: true, force: true });
  }
}

interface Recovery {
  /** From the start of a service whose Redis has lost everything, until it knows all rolls. */
  readonly tookMs: number;
  /** Of all processes until then. */
  readonly coreSeconds: number;
  /** Until it knows what their clips are, too. */
  readonly factsMs: number;
}

async function measureRecovery(service: Service, group: ProcessGroup | null): Promise<Recovery> {
  const ask = (...words: readonly string[]): Promise<string> =>
    runTool('redis-cli', '-s', join(service.data, 'redis.sock'), ...words).catch(() => '');
  await ask('flushall');
  await service.stop();
  await quietDisk();
  const told = service.log.length;
  const usedBefore = (await group?.coreSeconds()) ?? 0;
  const startedAt = performance.now();
  const starting = group === null ? service.run() : group.enter(() => service.run());
  while ((await ask('hlen', 'quayside:rolls')) !== String(ROLLS)) {
    if (performance.now() - startedAt > WITHIN_MS) throw new Error('Not all rolls were known after three minutes.');
    await wait(50);
  }
  const tookMs = performance.now() - startedAt;
  const coreSeconds = ((await group?.coreSeconds()) ?? 0) - usedBefore;
  await untilRead(service, told);
  await starting;
  return { tookMs, coreSeconds, factsMs: performance.now() - startedAt };
}

async function untilRead(service: Service, fromLine: number): Promise<void> {
  const mark = `${ROLLS} rolls were read again`;
  const deadline = performance.now() + WITHIN_MS;
  while (!service.log.slice(fromLine).some((line) => line.includes(mark))) {
    if (performance.now() > deadline) throw new Error('The view was not whole after three minutes.');
    await wait(20);
  }
}

function rows(recoveries: readonly Recovery[]): readonly Row[] {
  const samples = recoveries.map(({ tookMs }) => tookMs);
  const median = (of: (recovery: Recovery) => number): string => (medianOf(recoveries.map(of)) ?? 0).toFixed(1);
  return [
    {
      bench: 'rebuild',
      what: `${ROLLS} rolls of ${CLIPS_PER_ROLL} clips known again from the records on disk, Redis empty`,
      unit: 'ms',
      value: medianOf(samples),
      samples,
      target: { sense: 'under', limit: 10_000 },
      notes: [
        `from the start of the service, caches dropped; ${median(({ coreSeconds }) => coreSeconds)} core-seconds of all processes until then`,
        `what their clips are is known after ${median(({ factsMs }) => factsMs / 1000)} s`,
      ],
    },
  ];
}

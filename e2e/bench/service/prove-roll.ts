import { mkdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { folderVolumeMarker } from '@quayside/volumes';
import { Service } from '../../service/start-service.ts';
import { quietDisk } from '../measures/quiet-disk.ts';
import { openProcessGroup } from '../processes/open-process-group.ts';
import { type PeakMemory, watchMemory } from '../processes/watch-memory.ts';
import { releaseAtInterrupt } from '../release-at-interrupt.ts';
import { eventsUntil, timeOf } from './events-until.ts';

export interface RollOrder {
  /** A working folder; the service's own things lie below it for as long as it runs. */
  readonly folder: string;
  /** The folder volume to take in, on the same file system. It is moved into the service's bay, and back at the end. */
  readonly source: string;
  /** Two folders to copy to. They are emptied at the end. */
  readonly destinations: readonly string[];
}

/** How a roll fared: all times by the service's own events, and processor and memory of all its processes. */
export interface ProvenRoll {
  /** From `roll.listed` to `roll.clear`. */
  readonly seconds: number;
  /** From the plugging in, so with settling and listing; null where it cannot be counted. */
  readonly coreSeconds: number | null;
  readonly memory: PeakMemory | null;
  readonly areCachesDropped: boolean;
}

const SETTLE_SECONDS = 0.5;
const WITHIN_MS = 30 * 60_000;
const LOOK_AT_MEMORY_EVERY_MS = 500;

/** Starts the real service, plugs a folder volume in, and waits for its verdict. @throws Error when the verdict is not clear. */
export async function proveRoll({ folder, source, destinations }: RollOrder): Promise<ProvenRoll> {
  const own = join(folder, 'service');
  const bay = join(own, 'bay');
  await mkdir(bay, { recursive: true });
  for (const path of destinations) await mkdir(path, { recursive: true });
  const group = await openProcessGroup();
  const start = (): Promise<Service> =>
    Service.start({ folder: own, configuration: configurationFor(bay, destinations) });
  const service = group === null ? await start() : await group.enter(start);
  const callOff = releaseAtInterrupt(() => service.stop());
  const plugged = join(bay, 'wheel');
  try {
    const areCachesDropped = await quietDisk();
    const before = await group?.coreSeconds();
    const memory = group === null ? null : watchMemory(group, LOOK_AT_MEMORY_EVERY_MS);
    await rename(source, plugged);
    const events = await eventsUntil(service, ['roll.clear', 'roll.hold'], { after: '0', withinMs: WITHIN_MS });
    const after = await group?.coreSeconds();
    const peak = (await memory?.peak()) ?? null;
    const verdict = events.at(-1);
    if (verdict?.type !== 'roll.clear') throw new Error(`The roll is not clear: ${verdict?.sentence}`);
    return {
      seconds: (timeOf(events, 'roll.clear') - timeOf(events, 'roll.listed')) / 1000,
      coreSeconds: after === undefined || before === undefined ? null : after - before,
      memory: peak,
      areCachesDropped,
    };
  } finally {
    await service.stop();
    callOff();
    await group?.[Symbol.asyncDispose]();
    await rename(plugged, source).catch(() => undefined);
    await rm(own, { recursive: true, force: true });
    for (const path of destinations) await rm(path, { recursive: true, force: true });
  }
}

function configurationFor(bay: string, destinations: readonly string[]): Readonly<Record<string, unknown>> {
  return {
    // The marker that makes the folder a volume is no file of the roll.
    watch: {
      roots: [bay],
      settleSeconds: SETTLE_SECONDS,
      folders: true,
      litter: [folderVolumeMarker],
    },
    recorders: { wheel: { role: 'camera', match: [{ label: 'WHEEL' }] } },
    destinations: destinations.map((path, index) => ({ name: `copy-${index + 1}`, path, keepFreeBytes: 0 })),
    // Two folders on one disk, as the other tools get: a matter of measuring, and no way to keep footage.
    sameDevice: 'accept',
  };
}

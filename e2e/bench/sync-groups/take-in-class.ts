import { mkdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { folderVolumeMarker } from '@quayside/volumes';
import { Service } from '../../service/start-service.ts';
import { quietDisk } from '../measures/quiet-disk.ts';
import { releaseAtInterrupt } from '../release-at-interrupt.ts';
import { CAMERAS } from '../../media/lay-class.ts';

export interface ClassRun {
  /** From the first listing until the newest take could be edited at one destination, in seconds. */
  readonly newestUsable: number;
  /** Until any take could. */
  readonly firstUsable: number;
  /** Until every drive was clear. */
  readonly allClear: number;
  /** From the last byte that was proven until the records were written everywhere. */
  readonly recordsAfter: number;
}

const ASK_EVERY_MS = 100;
const WITHIN_MS = 20 * 60_000;

/** Plugs the four drives in together and follows the real service until everything is clear and recorded. */
export async function takeInClass(folder: string, order: 'editable-first' | 'plain'): Promise<ClassRun> {
  const own = join(folder, 'service');
  const bay = join(own, 'bay');
  await mkdir(bay, { recursive: true });
  const destinations = ['primary', 'backup'].map((name) => ({ name, path: join(own, name), keepFreeBytes: 0 }));
  for (const { path } of destinations) await mkdir(path, { recursive: true });
  const service = await Service.start({
    folder: own,
    configuration: {
      watch: { roots: [bay], settleSeconds: 0.5, folders: true, litter: [folderVolumeMarker] },
      recorders: Object.fromEntries(
        CAMERAS.map((name) => [name, { role: 'camera', match: [{ label: name.toUpperCase() }] }]),
      ),
      destinations,
      sameDevice: 'accept',
      order,
    },
  });
  const callOff = releaseAtInterrupt(() => service.stop());
  try {
    await quietDisk();
    for (const name of CAMERAS) await rename(join(folder, name), join(bay, name));
    return await follow(service);
  } finally {
    await service.stop();
    callOff();
    for (const name of CAMERAS) await rename(join(bay, name), join(folder, name)).catch(() => undefined);
    await rm(own, { recursive: true, force: true });
  }
}

interface Groups {
  readonly groups: readonly { readonly editableAt: readonly string[] }[];
}

async function follow(service: Service): Promise<ClassRun> {
  const deadline = performance.now() + WITHIN_MS;
  let firstUsable: number | null = null;
  let newestUsable: number | null = null;
  while (performance.now() < deadline) {
    await wait(ASK_EVERY_MS);
    const rolls = await service.rolls();
    const [roll] = rolls;
    if (roll === undefined) continue;
    const { groups } = await service.get<Groups>(`/v1/shoots/${roll.shootId}/groups`).catch(() => ({ groups: [] }));
    const now = Date.now();
    if (groups.some(({ editableAt }) => editableAt.length > 0)) firstUsable ??= now;
    if ((groups.at(-1)?.editableAt.length ?? 0) > 0) newestUsable ??= now;
    const isClear = rolls.length === CAMERAS.length && rolls.every(({ clearance }) => clearance.verdict === 'clear');
    if (!isClear || firstUsable === null || newestUsable === null) continue;
    return timesOf(service, { firstUsable, newestUsable });
  }
  throw new Error(`The class was not taken in. The log ends with:\n${service.log.slice(-20).join('\n')}`);
}

async function timesOf(service: Service, at: { firstUsable: number; newestUsable: number }): Promise<ClassRun> {
  const events = await service.until(
    'the records are written after the last byte was proven',
    async () => {
      const known = await service.events();
      const verified = known.findLastIndex(({ type }) => type === 'roll.sealed');
      return known.findLastIndex(({ type }) => type === 'shoot.recorded') > verified ? known : null;
    },
    60_000,
  );
  const timeOf = (type: string, last: boolean): number =>
    Date.parse(
      (last ? events.findLast((one) => one.type === type) : events.find((one) => one.type === type))?.at ?? '',
    );
  const began = timeOf('roll.listed', false);
  return {
    firstUsable: (at.firstUsable - began) / 1000,
    newestUsable: (at.newestUsable - began) / 1000,
    allClear: (timeOf('roll.clear', true) - began) / 1000,
    recordsAfter: (timeOf('shoot.recorded', true) - timeOf('roll.verified', true)) / 1000,
  };
}

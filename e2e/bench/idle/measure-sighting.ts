import { join } from 'node:path';
import { makeDrive } from '../../drives/make-drive.ts';
import { mountDrive, unmountDrive } from '../../drives/mount-drive.ts';
import type { Service } from '../../service/start-service.ts';
import { eventsUntil, timeOf } from '../service/events-until.ts';

export interface SightingWork {
  readonly service: Service;
  readonly folder: string;
  readonly bay: string;
  readonly times: number;
}

const WITHIN_MS = 20_000;
const DRIVE_BYTES = 16 * 2 ** 20;

/**
 * Milliseconds from the mounting of a drive to its event `volume.seen`, so often. They begin before the loop device is set
 * up and `mount` is started, so the truth is some milliseconds better.
 */
export async function measureSightings({ service, folder, bay, times }: SightingWork): Promise<readonly number[]> {
  const image = join(folder, 'desk.image');
  await using drive = await makeDrive({ image, fileSystem: 'ext4', label: 'DESK', sizeInBytes: DRIVE_BYTES });
  const sightings: number[] = [];
  let after = await lastEventId(service);
  for (let number = 1; number <= times; number += 1) {
    const mountedAt = Date.now();
    const mounted = await mountDrive(drive, join(bay, 'desk'));
    try {
      const seen = await eventsUntil(service, ['volume.seen'], { after, withinMs: WITHIN_MS });
      sightings.push(timeOf(seen, 'volume.seen') - mountedAt);
      after = seen.at(-1)?.id ?? after;
    } finally {
      await unmountDrive(mounted);
    }
    const gone = await eventsUntil(service, ['volume.gone'], { after, withinMs: WITHIN_MS });
    after = gone.at(-1)?.id ?? after;
  }
  return sightings;
}

async function lastEventId(service: Service): Promise<string> {
  let after = '0';
  for (;;) {
    const page = await service.get<{ next: string }>(`/v1/events/list?limit=1000&after=${after}`);
    if (page.next === after) return after;
    after = page.next;
  }
}

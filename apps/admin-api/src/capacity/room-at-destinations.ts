import { stat } from 'node:fs/promises';
import { bytesStillToCome } from '@quayside/pipeline';
import type { CapacityQuestion } from '@quayside/proxy-planning';
import type { ApiParts } from '../api-parts.ts';

/** What each destination has free for another shoot: less what must stay free, and what rolls still bring. Null: it is away. */
export async function roomAtDestinations({
  store,
  configuration,
}: Pick<ApiParts, 'store' | 'configuration'>): Promise<CapacityQuestion['destinations']> {
  // Only here: the API holds no memory for it while nobody asks.
  const { freeBytes, readDestinationMarker } = await import('@quayside/media-files');
  const rolls = await store.awakeRolls();
  const found = await Promise.all(
    configuration.destinations.map(async ({ name, path, keepFreeBytes }) => {
      // A path without the marker is the empty folder where a drive should be mounted.
      const isThere = (await readDestinationMarker(path).catch(() => null)) !== null;
      const free = isThere ? await freeBytes(path).catch(() => null) : null;
      if (free === null) return { name, freeBytes: null, device: null };
      const promised = rolls.reduce((sum, roll) => sum + bytesStillToCome(roll, name), 0);
      return { name, freeBytes: Math.max(0, free - keepFreeBytes - promised), device: await deviceOf(path) };
    }),
  );
  return found.map(({ device, ...room }) => ({
    ...room,
    sharedBy: device === null ? 1 : found.filter((other) => other.device === device).length,
  }));
}

async function deviceOf(path: string): Promise<number | null> {
  return (await stat(path).catch(() => null))?.dev ?? null;
}

import { applyRollEvent } from '@quayside/job-queue';
import { interruptedParts } from '@quayside/media-files';
import type { RollEvent } from '@quayside/pipeline';
import type { Roll, RunRequest } from '@quayside/shoot';
import { isStillMounted } from '@quayside/volumes';
import { z } from 'zod';
import type { RunnerParts } from './runner-parts.ts';

const Copying = z.object({ visit: z.number(), parcel: z.number(), destinations: z.array(z.string()) });

/**
 * Notes what a run found whose drive could not be read: how far its copies durably stand, and a drive that is still mounted
 * and answers nothing. Of one that has left the watcher tells.
 */
export async function noteInterruption(parts: RunnerParts, run: RunRequest, signal: AbortSignal): Promise<void> {
  const roll = await parts.store.roll(run.subject);
  if (roll === null) return;
  const apply = (event: RollEvent): Promise<Roll> =>
    applyRollEvent(parts, roll.id, { event, now: new Date().toISOString() });
  const copying = Copying.safeParse(run.inputs);
  if (run.step === 'ingest' && copying.success) {
    const { visit, parcel, destinations } = copying.data;
    const partBytes = await findPartBytes(parts, roll, { parcel, destinations });
    await apply({ type: 'parcelInterrupted', visit, parcel, partBytes });
  }
  const { mount } = roll;
  if (mount === null || !(await isStillMounted(mount)) || (await parts.isAnswering(mount, signal))) return;
  await apply({ type: 'volumeSilent', mountId: mount.mountId });
}

async function findPartBytes(
  { capabilities }: RunnerParts,
  roll: Roll,
  { parcel, destinations }: { readonly parcel: number; readonly destinations: readonly string[] },
): Promise<Record<string, number>> {
  const path = roll.parcels[parcel]?.firstPath;
  const found: Record<string, number> = {};
  for (const name of destinations) {
    // It only shows how far the work is; a destination that is away shows nothing.
    const [destination] = await capabilities.rolls.destinations([name]).catch(() => []);
    if (destination === undefined) continue;
    const all = await interruptedParts(destination.root, roll.id).catch(() => []);
    found[name] = all.find((part) => part.path === path)?.durableBytes ?? 0;
  }
  return found;
}

import type { RunQueue, Store } from '@quayside/job-queue';

/** Asks for the intake of a settled volume, unless its roll already knows this content; an unclaimed volume waits. */
export async function askForIntake(
  { store, queue }: { readonly store: Store; readonly queue: RunQueue },
  volumeKey: string,
  fingerprint: string,
): Promise<void> {
  const volume = await store.volume(volumeKey);
  if (volume === null || volume.recorder === null) return;
  const roll = volume.rollId === null ? null : await store.roll(volume.rollId);
  if (
    roll !== null &&
    roll.fingerprint === fingerprint &&
    roll.mount?.mountId === volume.mount?.mountId &&
    roll.mount?.path === volume.mount?.path
  )
    return;
  await queue.ask([
    {
      id: `intake-${volumeKey}-${fingerprint}`,
      step: 'intake',
      subject: volumeKey,
      inputs: { volumeKey, fingerprint },
    },
  ]);
}

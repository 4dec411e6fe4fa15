import type { Store } from '@quayside/job-queue';

/**
 * Bytes that the connected drives of each recorder have free, as their last listing says: a drive is not asked, since one that
 * hangs must not hang an answer.
 */
export async function driveRoom(store: Store): Promise<ReadonlyMap<string, number>> {
  const room = new Map<string, number>();
  for (const { recorder, mount, identity, sizeInBytes } of await store.volumes()) {
    if (recorder === null || mount === null) continue;
    room.set(recorder, (room.get(recorder) ?? 0) + Math.max(0, identity.sizeInBytes - sizeInBytes));
  }
  return room;
}

import type { Configuration } from '@quayside/configuration';
import type { Store } from '@quayside/job-queue';
import { freeBytes } from '@quayside/media-files';
import { bytesStillToCome } from '@quayside/pipeline';
import type { DestinationBook } from '../destinations/destination-book.ts';

interface Parts {
  readonly store: Store;
  readonly book: DestinationBook;
  readonly configuration: Configuration;
}

/** What proxies may take where they would lie: what is free, less what must stay free and what rolls still bring. Null while that is away. */
export async function findRoomForProxies({
  store,
  book,
  configuration: { proxies, destinations },
}: Parts): Promise<{ readonly place: string; readonly bytes: number } | null> {
  const name = proxies.destination ?? destinations[0]?.name;
  if (name === undefined) return null;
  const [found] = await book.look([name]);
  if (found === undefined || found.failure !== null) return null;
  const rolls = await store.awakeRolls();
  const promised = rolls.reduce((sum, roll) => sum + bytesStillToCome(roll, name), 0);
  const keepFreeBytes = book.configured(name)?.keepFreeBytes ?? 0;
  return { place: name, bytes: Math.max(0, (await freeBytes(found.destination.root)) - keepFreeBytes - promised) };
}

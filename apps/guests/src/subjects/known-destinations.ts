import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Configuration } from '@quayside/configuration';
import { findDestinationAway } from '@quayside/media-files';
import { z } from 'zod';

const Remembered = z.record(z.string(), z.object({ id: z.string(), path: z.string() }));

/**
 * The roots of the destinations that are there at this moment, by name, in the order of the configuration. Only such as the
 * worker has met and remembers; nothing is written to find out.
 */
export async function knownDestinations({
  data,
  destinations,
}: Pick<Configuration, 'data' | 'destinations'>): Promise<ReadonlyMap<string, string>> {
  const text = await readFile(join(data, 'destinations.json'), 'utf8').catch(() => '{}');
  const remembered = Remembered.catch({}).parse(JSON.parse(text));
  const there = new Map<string, string>();
  for (const { name, path: root } of destinations) {
    const known = remembered[name];
    if (known !== undefined && (await findDestinationAway({ name, root, id: known.id })) === null)
      there.set(name, root);
  }
  return there;
}

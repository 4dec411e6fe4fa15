import { randomUUID } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { syncFolder } from '../durable/sync-folder.ts';
import { writeDurably } from '../durable/write-durably.ts';

const MARKER_NAME = '.quayside-destination.json';

/** What lies at a destination's root and makes it that destination, wherever it is mounted. */
export const DestinationMarker = z.object({
  format: z.literal(1),
  id: z.uuid(),
  name: z.string().min(1),
  createdAt: z.iso.datetime(),
});
export type DestinationMarker = z.output<typeof DestinationMarker>;

/** The marker at this root, or null when there is none or it cannot be understood. Throws when the root cannot be read. */
export async function readDestinationMarker(root: string): Promise<DestinationMarker | null> {
  const text = await unlessCode(['ENOENT', 'ENOTDIR'], readFile(join(root, MARKER_NAME), 'utf8'));
  if (text === null) return null;
  return DestinationMarker.safeParse(parseJson(text)).data ?? null;
}

/**
 * Makes a folder a destination by putting its marker there, once: when two processes do it at the same time, both get the
 * one id. The folder must be there. A marker that cannot be understood is replaced.
 */
export async function prepareDestination(root: string, name: string): Promise<{ id: string; created: boolean }> {
  const known = await readDestinationMarker(root);
  if (known !== null) return { id: known.id, created: false };
  const marker: DestinationMarker = { format: 1, id: randomUUID(), name, createdAt: new Date().toISOString() };
  const staged = join(root, `.quayside-destination.${marker.id}.json`);
  await writeDurably(staged, `${JSON.stringify(marker, null, 2)}\n`);
  await placeOnce(staged, join(root, MARKER_NAME));
  await syncFolder(root);
  const placed = await readDestinationMarker(root);
  if (placed !== null) return { id: placed.id, created: placed.id === marker.id };
  await writeDurably(join(root, MARKER_NAME), `${JSON.stringify(marker, null, 2)}\n`);
  return { id: marker.id, created: true };
}

async function placeOnce(staged: string, path: string): Promise<void> {
  const isLinked = await unlessCode(
    ['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS'],
    unlessCode(['EEXIST'], fileCalls.link(staged, path)).then(() => true),
  );
  if (isLinked === true) return fileCalls.unlink(staged);
  return fileCalls.rename(staged, path);
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

import { realpath, stat } from 'node:fs/promises';
import { destinationInsideSource } from '@quayside/configuration';
import { freeBytes, readLedger } from '@quayside/media-files';
import { reserveSpace } from '@quayside/pipeline';
import { failureOf, type Failure, type FileEntry, type Volume } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk';
import { readRollRecord } from '../records/roll-record.ts';
import type { IntakeParts } from './take-in.ts';

export interface Chosen {
  readonly destination: Destination;
  /** Why it is skipped, or null when it takes the roll. */
  readonly failure: Failure | null;
}

/** Which destinations take a roll: those that are there, do not lie on the source, and have room for all of it. */
export async function chooseDestinations(
  { store, book }: IntakeParts,
  wanted: {
    readonly rollId: string;
    readonly shootId: string;
    readonly files: readonly FileEntry[];
    readonly volume: Volume;
  },
): Promise<readonly Chosen[]> {
  const others = (await store.rolls()).filter((roll) => roll.id !== wanted.rollId);
  const found = await book.find();
  return Promise.all(
    found.map(async ({ destination, failure }): Promise<Chosen> => {
      if (failure !== null) return { destination, failure };
      try {
        const onSource = await refuseSource(destination, wanted.volume);
        if (onSource !== null) return { destination, failure: onSource };
        const keepFreeBytes = book.configured(destination.name)?.keepFreeBytes ?? 0;
        const space = { destination: destination.name, freeBytes: await freeBytes(destination.root), keepFreeBytes };
        return { destination, failure: reserveSpace(await bytesMissing(destination.root, wanted), space, others) };
      } catch (error) {
        return { destination, failure: failureOf(error) };
      }
    }),
  );
}

/** Bytes that a destination does not hold yet: of a roll that is offered again, only what is new needs room. */
async function bytesMissing(
  root: string,
  {
    rollId,
    shootId,
    files,
  }: { readonly rollId: string; readonly shootId: string; readonly files: readonly FileEntry[] },
): Promise<number> {
  const held = new Set<string>();
  const hold = ({ path, sizeInBytes, modifiedMs }: FileEntry): void =>
    void held.add(`${sizeInBytes} ${modifiedMs} ${path}`);
  for (const [path, file] of (await readLedger(root, rollId)).files)
    if (file.state !== 'failed') hold({ ...file, path });
  const record = await readRollRecord(root, { shootId, rollId });
  if (record !== null && record !== 'damaged') for (const file of record.files) hold(file);
  return files.reduce(
    (sum, { path, sizeInBytes, modifiedMs }) =>
      held.has(`${sizeInBytes} ${modifiedMs} ${path}`) ? sum : sum + sizeInBytes,
    0,
  );
}

/** A destination on the volume itself would write to the source, and prove nothing. By device too: bind mounts hide it. */
async function refuseSource(destination: Destination, volume: Volume): Promise<Failure | null> {
  if (volume.mount === null) return null;
  const place = { name: destination.name, path: await realpath(destination.root) };
  const [inside] = destinationInsideSource([place], [{ path: await realpath(volume.mount.path) }]);
  if (inside !== undefined) return inside;
  if (volume.identity.basis === 'folder') return null;
  const { dev } = await stat(destination.root);
  if (dev !== (await stat(volume.mount.path)).dev) return null;
  const sentence = `Destination ${destination.name} at ${destination.root} lies on the drive that is to be copied (${volume.mount.path}); nothing is written there. Point it at another device.`;
  return { code: 'DESTINATION_INSIDE_SOURCE', sentence, retry: 'never' };
}

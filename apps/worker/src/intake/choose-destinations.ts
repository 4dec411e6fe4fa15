import { answerInTime, freeBytes, interruptedBytes, readLedger } from '@quayside/media-files';
import { reserveSpace } from '@quayside/pipeline';
import { failureOf, type Failure, type FileEntry } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { readRollRecord } from '../records/roll-record.ts';
import type { IntakeParts } from './intake-parts.ts';

export interface Chosen {
  readonly destination: Destination;
  /** Why it is skipped, or null when it takes the roll. */
  readonly failure: Failure | null;
}

/** Which destinations take a roll: those that are there, and have room for all of it. */
export async function chooseDestinations(
  { store, book }: IntakeParts,
  wanted: {
    readonly rollId: string;
    readonly shootId: string;
    readonly files: readonly FileEntry[];
  },
): Promise<readonly Chosen[]> {
  const others = (await store.awakeRolls()).filter((roll) => roll.id !== wanted.rollId);
  const found = await book.find();
  return Promise.all(
    found.map(async ({ destination, failure }): Promise<Chosen> => {
      if (failure !== null) return { destination, failure };
      try {
        const keepFreeBytes = book.configured(destination.name)?.keepFreeBytes ?? 0;
        return await answerInTime(destination, async () => {
          const space = { destination: destination.name, freeBytes: await freeBytes(destination.root), keepFreeBytes };
          return { destination, failure: reserveSpace(await bytesMissing(destination.root, wanted), space, others) };
        });
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
  const missing = files.reduce(
    (sum, { path, sizeInBytes, modifiedMs }) =>
      held.has(`${sizeInBytes} ${modifiedMs} ${path}`) ? sum : sum + sizeInBytes,
    0,
  );
  return Math.max(missing - (await interruptedBytes(root, rollId)), 0);
}

import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { STAGING_FOLDER } from '../destination/destination-folders.ts';
import { unlessCode } from '../direct-io/file-calls.ts';
import { PART_NAME } from './part-folders.ts';
import { readPartJournal } from './part-journal.ts';

const IS_GONE = ['ENOENT', 'ENOTDIR'];

/** How many bytes of a roll lie interrupted at a destination: room that the roll has taken already and will not ask for again. */
export async function interruptedBytes(root: string, rollId: string): Promise<number> {
  const staging = join(root, STAGING_FOLDER);
  let sum = 0;
  // Those of a process that died lie in its own folder until the next one looks after them.
  for (const owner of (await unlessCode(IS_GONE, readdir(staging))) ?? []) {
    for (const key of (await unlessCode(IS_GONE, readdir(join(staging, owner)))) ?? []) {
      const folder = join(staging, owner, key);
      const journal = await readPartJournal(folder);
      if (journal?.header.rollId !== rollId) continue;
      sum += (await unlessCode(IS_GONE, stat(join(folder, PART_NAME))))?.size ?? 0;
    }
  }
  return sum;
}

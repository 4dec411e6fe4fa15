import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { STAGING_FOLDER } from '../destination/destination-folders.ts';
import { unlessCode } from '../direct-io/file-calls.ts';
import { PART_NAME } from './part-folders.ts';
import { readPartJournal } from './part-journal.ts';

const IS_GONE = ['ENOENT', 'ENOTDIR'];

/** A copy that was broken off. */
export interface InterruptedPart {
  /** Of the file on its drive. */
  readonly path: string;
  /** What it takes up. */
  readonly sizeInBytes: number;
  /** What of it is durable and need not be copied again, as its journal says. */
  readonly durableBytes: number;
}

/** The parts of a roll's files that lie at a destination. */
export async function interruptedParts(root: string, rollId: string): Promise<InterruptedPart[]> {
  const staging = join(root, STAGING_FOLDER);
  const parts: InterruptedPart[] = [];
  // Those of a process that died lie in its own folder until the next one looks after them.
  for (const owner of (await unlessCode(IS_GONE, readdir(staging))) ?? []) {
    for (const key of (await unlessCode(IS_GONE, readdir(join(staging, owner)))) ?? []) {
      const folder = join(staging, owner, key);
      const journal = await readPartJournal(folder);
      if (journal?.header.rollId !== rollId) continue;
      const found = await unlessCode(IS_GONE, stat(join(folder, PART_NAME)));
      if (found === null) continue;
      const { path, blockBytes } = journal.header;
      const durableBytes = Math.min(journal.marks.length * blockBytes, found.size);
      parts.push({ path, sizeInBytes: found.size, durableBytes });
    }
  }
  return parts;
}

/** How many bytes of a roll lie interrupted at a destination: room that the roll has taken already and will not ask for again. */
export async function interruptedBytes(root: string, rollId: string): Promise<number> {
  return (await interruptedParts(root, rollId)).reduce((sum, { sizeInBytes }) => sum + sizeInBytes, 0);
}

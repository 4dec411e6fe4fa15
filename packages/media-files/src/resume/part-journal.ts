import { constants } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { HashAlgorithm } from '@quayside/shoot';
import { z } from 'zod';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { writeFully } from '../direct-io/write-fully.ts';
import { writeDurably } from '../durable/write-durably.ts';

export const JOURNAL_NAME = 'journal';

/** Which file a part belongs to, as the source was when its first byte was read. Another one is another file. */
export const PartHeader = z.object({
  format: z.literal(1),
  rollId: z.string(),
  path: z.string(),
  sizeInBytes: z.number().int().nonnegative(),
  modifiedMs: z.number(),
  /** When the source's inode was changed last, which nobody can set back; some file systems give the time of the content. */
  changedMs: z.number(),
  blockBytes: z.number().int().positive(),
  algorithm: HashAlgorithm,
});
export type PartHeader = z.output<typeof PartHeader>;

/**
 * What a part's journal says: one mark for each block that was durable, in order. A mark is the digest of all that the
 * source gave up to the block's end.
 */
export interface PartJournal {
  readonly header: PartHeader;
  readonly marks: readonly string[];
}

/** A journal that grows with its part. */
export interface GrowingJournal {
  /** Adds the mark of the next block; it is durable when this returns. */
  append(mark: string): Promise<void>;
  close(): Promise<void>;
}

/**
 * Reads the journal in a part's folder up to the first line that is torn or not its own; null when not even the header is
 * whole. What it says need not be true of the part beside it: that is proven by reading the part.
 */
export async function readPartJournal(folder: string): Promise<PartJournal | null> {
  const text = await unlessCode(['ENOENT', 'ENOTDIR'], readFile(join(folder, JOURNAL_NAME), 'utf8'));
  // What follows the last line break was torn.
  const [first = '', ...lines] = text?.split('\n').slice(0, -1) ?? [];
  const header = PartHeader.safeParse(parseJson(first));
  if (!header.success) return null;
  const marks: string[] = [];
  for (const line of lines) {
    const [, index, mark] = /^(\d+) ([0-9A-Za-z]{16,90})$/.exec(line) ?? [];
    if (mark === undefined || Number(index) !== marks.length) break;
    marks.push(mark);
  }
  return { header: header.data, marks };
}

/** Writes the journal of a part as it stands, in place of any that was there, and opens it for what follows. */
export async function startPartJournal(folder: string, { header, marks }: PartJournal): Promise<GrowingJournal> {
  const path = join(folder, JOURNAL_NAME);
  const lines = [JSON.stringify(header), ...marks.map((mark, index) => lineOf(index, mark))];
  const text = lines.map((line) => `${line}\n`).join('');
  await writeDurably(path, text);
  const fd = await fileCalls.open(path, constants.O_WRONLY);
  let count = marks.length;
  let length = Buffer.byteLength(text);
  return {
    append: async (mark) => {
      const bytes = Buffer.from(`${lineOf(count, mark)}\n`);
      await writeFully((part, position) => fileCalls.write(fd, part, position), bytes, length);
      await fileCalls.fsync(fd);
      count += 1;
      length += bytes.length;
    },
    close: () => fileCalls.close(fd),
  };
}

function lineOf(index: number, mark: string): string {
  return `${index} ${mark}`;
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

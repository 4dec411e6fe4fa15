import { dirname, join } from 'node:path';
import { readFile } from 'node:fs/promises';
import { createDestinationFolder, writeDurably } from '@quayside/media-files';
import { Digests, FileEntry, FolderName, Instant, ReadBackMethod, RecorderRole, VolumeIdentity } from '@quayside/shoot';
import { z } from 'zod';

/**
 * What a sealed roll says of itself, beside the footage at every destination. With the hash-list history it is all that
 * is needed to judge the roll again or to rebuild the view. The history proves the bytes; the record tells which file of
 * the volume each stored file is, and how it was read back.
 */
export const RollRecord = z.object({
  format: z.literal(1),
  rollId: FolderName,
  shootId: FolderName,
  recorder: FolderName,
  role: RecorderRole,
  volume: VolumeIdentity,
  visit: z.number().int().positive(),
  fingerprint: z.string(),
  openedAt: Instant,
  sealedAt: Instant,
  /** Since when every file has been read back from the medium; a reading again of all of them makes it later. */
  readBackAt: Instant.optional(),
  manifest: z.object({ generation: z.number().int().positive(), c4: z.string() }),
  files: z.array(
    FileEntry.extend({
      storedPath: z.string(),
      /** Of the stored file when it was read back: a later edit shows in it. */
      storedTimes: z.object({ modifiedMs: z.number(), changedMs: z.number() }),
      digests: Digests,
      method: ReadBackMethod,
    }),
  ),
});
export type RollRecord = z.output<typeof RollRecord>;

/** Writes the record at a destination's root, staged and synced. */
export async function writeRollRecord(root: string, record: RollRecord): Promise<void> {
  const path = recordPath(root, record);
  await createDestinationFolder(root, dirname(path));
  await writeDurably(path, `${JSON.stringify(record, null, 1)}\n`);
}

/** The record at a destination's root: null when there is none, `'damaged'` when it cannot be read as one. */
export async function readRollRecord(
  root: string,
  roll: Pick<RollRecord, 'shootId' | 'rollId'>,
): Promise<RollRecord | 'damaged' | null> {
  let text: string;
  try {
    text = await readFile(recordPath(root, roll), 'utf8');
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
  return parseRecord(text);
}

/** Reads a record's text; `'damaged'` when it is not one. */
export function parseRecord(text: string): RollRecord | 'damaged' {
  try {
    return RollRecord.parse(JSON.parse(text));
  } catch {
    return 'damaged';
  }
}

function recordPath(root: string, { shootId, rollId }: Pick<RollRecord, 'shootId' | 'rollId'>): string {
  return join(root, shootId, 'records', 'rolls', `${rollId}.json`);
}

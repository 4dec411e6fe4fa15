import { readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { createDestinationFolder, writeDurably } from '@quayside/media-files';
import { Acknowledgement, FileFacts, FolderName } from '@quayside/shoot';
import { z } from 'zod';
import { recordsFolder } from './shoot-folder.ts';

/** The facts of one roll's files, kept beside the footage so that a view that was lost need not ask the drives again. */
const FactsRecord = z.object({ format: z.literal(1), rollId: FolderName, files: z.array(FileFacts) });

/** Findings that people have seen, kept beside the footage for the same reason. */
const SeenRecord = z.object({ format: z.literal(1), acknowledgements: z.array(Acknowledgement) });

interface At {
  readonly root: string;
  readonly shootId: string;
}

/** Writes one roll's facts into the shoot's records, staged and synced. */
export async function writeFacts(at: At, rollId: string, files: readonly FileFacts[]): Promise<void> {
  const record: z.input<typeof FactsRecord> = { format: 1, rollId, files: [...files] };
  await writeJson(at, factsPath(at, rollId), record);
}

/** A roll's facts on record; empty when there are none, or none that can be read. */
export async function readFacts(at: At, rollId: string): Promise<readonly FileFacts[]> {
  return (await readJson(factsPath(at, rollId), FactsRecord))?.files ?? [];
}

export async function writeAcknowledgements(at: At, acknowledgements: readonly Acknowledgement[]): Promise<void> {
  const record: z.input<typeof SeenRecord> = { format: 1, acknowledgements: [...acknowledgements] };
  await writeJson(at, seenPath(at), record);
}

export async function readAcknowledgements(at: At): Promise<readonly Acknowledgement[]> {
  return (await readJson(seenPath(at), SeenRecord))?.acknowledgements ?? [];
}

function factsPath({ root, shootId }: At, rollId: string): string {
  return join(recordsFolder(root, shootId), 'facts', `${rollId}.json`);
}

function seenPath({ root, shootId }: At): string {
  return join(recordsFolder(root, shootId), 'acknowledged.json');
}

async function writeJson({ root }: At, path: string, value: unknown): Promise<void> {
  await createDestinationFolder(root, dirname(path));
  await writeDurably(path, `${JSON.stringify(value, null, 1)}\n`);
}

async function readJson<Value>(path: string, schema: z.ZodType<Value>): Promise<Value | null> {
  try {
    return schema.parse(JSON.parse(await readFile(path, 'utf8')));
  } catch {
    // Absent or damaged: it can be made again from the drives, so it is not worth more than doing that.
    return null;
  }
}

import { readdir, readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { createDestinationFolder, writeDurably } from '@quayside/media-files';
import { GuestRunRecord } from '@quayside/shoot';
import { pluginsFolder } from './run-places.ts';

/** Writes what became of a run beside the footage, so that a view that was lost need not run everything again. */
export async function writeRunRecord(root: string, place: string, record: GuestRunRecord): Promise<void> {
  const path = join(root, place);
  await createDestinationFolder(root, dirname(path));
  await writeDurably(path, `${JSON.stringify(record, null, 1)}\n`);
}

/** The runs of a shoot on record at a destination. What cannot be read as one is passed over: it is made again. */
export async function readRunRecords(root: string, shootId: string): Promise<readonly GuestRunRecord[]> {
  const folder = join(root, pluginsFolder(shootId));
  const plugins = await readdir(folder).catch(() => []);
  const records: GuestRunRecord[] = [];
  for (const plugin of plugins) {
    const runs = join(folder, plugin, 'runs');
    for (const name of await readdir(runs).catch(() => [])) {
      const record = name.endsWith('.json') ? await readRecord(join(runs, name)) : null;
      if (record !== null) records.push(record);
    }
  }
  return records;
}

async function readRecord(path: string): Promise<GuestRunRecord | null> {
  try {
    return GuestRunRecord.parse(JSON.parse(await readFile(path, 'utf8')));
  } catch {
    return null;
  }
}

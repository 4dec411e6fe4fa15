import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { readRollRecord, type RollRecord } from './roll-record.ts';

export interface RecordsAt {
  readonly records: readonly RollRecord[];
  /** Records that are there and cannot be read as such. */
  readonly damaged: readonly { readonly shootId: string; readonly rollId: string }[];
}

/** How many files are read at a time: enough to keep a disk busy, few enough to leave it to others too. */
const AT_ONCE = 16;

/** The records of all rolls at a destination's root, or of those of one shoot. */
export async function recordsAt(root: string, shootId: string | null = null): Promise<RecordsAt> {
  const shoots = shootId === null ? await namesIn(root) : [shootId];
  const places: { shootId: string; rollId: string }[] = [];
  for (const shoot of shoots) {
    for (const name of await namesIn(join(root, shoot, 'records', 'rolls')))
      if (name.endsWith('.json')) places.push({ shootId: shoot, rollId: name.slice(0, -'.json'.length) });
  }
  const records: RollRecord[] = [];
  const damaged: { shootId: string; rollId: string }[] = [];
  for (let first = 0; first < places.length; first += AT_ONCE) {
    const batch = places.slice(first, first + AT_ONCE);
    const read = await Promise.all(batch.map((place) => readRollRecord(root, place).catch(() => 'damaged' as const)));
    for (const [index, place] of batch.entries()) {
      const record = read[index] ?? null;
      if (record === 'damaged') damaged.push(place);
      else if (record !== null) records.push(record);
    }
  }
  return { records, damaged };
}

async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    return (await readdir(folder)).filter((name) => !name.startsWith('.'));
  } catch {
    return [];
  }
}

import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { DestinationBook } from '../destinations/destination-book.ts';

/** Where a record of a roll lies. */
export interface RecordPlace {
  readonly destination: string;
  readonly root: string;
  readonly shootId: string;
}

export interface RecordPlaces {
  readonly byRoll: ReadonlyMap<string, readonly RecordPlace[]>;
  readonly shootIds: ReadonlySet<string>;
  /** The roots of the destinations that were looked at, by name. */
  readonly roots: ReadonlyMap<string, string>;
  readonly unread: readonly { readonly destination: string; readonly why: string }[];
}

/** Finds the records of all rolls, or of those of one shoot, at every destination that is there. None of them is read yet. */
export async function findRecords(book: DestinationBook, shootId: string | null = null): Promise<RecordPlaces> {
  const byRoll = new Map<string, RecordPlace[]>();
  const shootIds = new Set<string>();
  const roots = new Map<string, string>();
  const unread: { destination: string; why: string }[] = [];
  for (const { destination, failure } of await book.look()) {
    const { name, root } = destination;
    if (failure !== null) {
      unread.push({ destination: name, why: failure.sentence });
      continue;
    }
    roots.set(name, root);
    for (const found of await recordsIn(root, shootId)) {
      shootIds.add(found.shootId);
      const places = byRoll.get(found.rollId) ?? [];
      places.push({ destination: name, root, shootId: found.shootId });
      byRoll.set(found.rollId, places);
    }
  }
  return { byRoll, shootIds, roots, unread };
}

/** The records at a destination's root, by the names of their files. */
export async function recordsIn(
  root: string,
  shootId: string | null = null,
): Promise<readonly { readonly shootId: string; readonly rollId: string }[]> {
  const found: { shootId: string; rollId: string }[] = [];
  for (const shoot of shootId === null ? await namesIn(root) : [shootId]) {
    for (const name of await namesIn(join(root, shoot, 'records', 'rolls')))
      if (name.endsWith('.json')) found.push({ shootId: shoot, rollId: name.slice(0, -'.json'.length) });
  }
  return found;
}

async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    return (await readdir(folder)).filter((name) => !name.startsWith('.'));
  } catch {
    return [];
  }
}

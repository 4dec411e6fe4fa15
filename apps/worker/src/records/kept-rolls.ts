import { fingerprintOf } from '@quayside/media-files';
import { planParcels, type RecordedRoll } from '@quayside/pipeline';
import type { FileEntry } from '@quayside/shoot';
import type { DestinationBook } from '../destinations/destination-book.ts';
import { recordsAt } from './records-at.ts';
import type { RollRecord } from './roll-record.ts';

/** What all destinations that are there have on record of one roll. */
export interface KeptRoll {
  /** The one that says what the drive held last. */
  readonly newest: RollRecord;
  readonly byDestination: ReadonlyMap<string, RollRecord>;
}

export interface KeptRecords {
  readonly rolls: ReadonlyMap<string, KeptRoll>;
  /** The roots of the destinations that were looked at, by name. */
  readonly roots: ReadonlyMap<string, string>;
  readonly unread: readonly { readonly destination: string; readonly why: string }[];
  readonly damaged: readonly { readonly destination: string; readonly shootId: string; readonly rollId: string }[];
}

/** Reads the records of all rolls, or of those of one shoot, at every destination that is there. */
export async function readKeptRecords(book: DestinationBook, shootId: string | null = null): Promise<KeptRecords> {
  const rolls = new Map<string, { newest: RollRecord; byDestination: Map<string, RollRecord> }>();
  const roots = new Map<string, string>();
  const unread: { destination: string; why: string }[] = [];
  const damaged: { destination: string; shootId: string; rollId: string }[] = [];
  for (const { destination, failure } of await book.look()) {
    const { name, root } = destination;
    if (failure !== null) {
      unread.push({ destination: name, why: failure.sentence });
      continue;
    }
    roots.set(name, root);
    const found = await recordsAt(root, shootId);
    damaged.push(...found.damaged.map((place) => ({ destination: name, ...place })));
    for (const record of found.records) {
      const known = rolls.get(record.rollId) ?? { newest: record, byDestination: new Map<string, RollRecord>() };
      if (isNewer(record, known.newest)) known.newest = record;
      known.byDestination.set(name, record);
      rolls.set(record.rollId, known);
    }
  }
  return { rolls, roots, unread, damaged };
}

/** After a loss of the view visits began anew, so of two the one that was sealed later is newer. Of one visit the fuller tells more. */
function isNewer(record: RollRecord, than: RollRecord): boolean {
  if (record.visit === than.visit) return record.files.length > than.files.length;
  return record.sealedAt === than.sealedAt ? record.visit > than.visit : record.sealedAt > than.sealedAt;
}

export interface RecordedFiles {
  readonly record: RecordedRoll;
  /** The files of its parcels. */
  readonly parcels: readonly (readonly FileEntry[])[];
}

/** What the records of a roll say together. `names` are the destinations of today. */
export function recordedRollOf(
  { newest, byDestination }: KeptRoll,
  { names, repairLimit }: { readonly names: readonly string[]; readonly repairLimit: number },
): RecordedFiles {
  const files = newest.files.map(({ path, sizeInBytes, modifiedMs }) => ({ path, sizeInBytes, modifiedMs }));
  const parcels = planParcels(files);
  const provenAt = new Map([...byDestination].map(([name, record]) => [name, new Set(record.files.map(signature))]));
  const at = (parcel: readonly FileEntry[]): readonly string[] =>
    [...provenAt].filter(([, proven]) => parcel.every((file) => proven.has(signature(file)))).map(([name]) => name);
  const isEverywhere =
    names.every((name) => byDestination.has(name)) && parcels.every((one) => at(one).length === byDestination.size);
  const { rollId, shootId, recorder, role, volume, visit, openedAt } = newest;
  return {
    parcels,
    record: {
      id: rollId,
      shootId,
      recorder,
      role,
      volume,
      visit,
      openedAt,
      repairLimit,
      fingerprint: isEverywhere ? fingerprintOf({ files }) : '',
      sealedAt:
        [...byDestination.values()]
          .map(({ sealedAt }) => sealedAt)
          .toSorted()
          .at(-1) ?? newest.sealedAt,
      parcels: parcels.map((parcel) => ({
        firstPath: parcel[0]?.path ?? '',
        fileCount: parcel.length,
        sizeInBytes: parcel.reduce((sum, file) => sum + file.sizeInBytes, 0),
        provenAt: at(parcel),
      })),
      destinations: Object.fromEntries(
        [...byDestination].map(([name, { manifest, readBackAt, sealedAt }]) => [
          name,
          { generation: manifest.generation, readBackAt: readBackAt ?? sealedAt },
        ]),
      ),
    },
  };
}

/** One text for what a file is on the drive: equal when path, size and time are. */
export function signature({ path, sizeInBytes, modifiedMs }: FileEntry): string {
  return JSON.stringify([path, sizeInBytes, modifiedMs]);
}

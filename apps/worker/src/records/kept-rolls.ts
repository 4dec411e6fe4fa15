import { fingerprintOf } from '@quayside/media-files';
import { planParcels, type RecordedRoll } from '@quayside/pipeline';
import type { Copy, FileEntry } from '@quayside/shoot';
import type { RecordPlace } from './record-places.ts';
import { readRollRecord, type RollRecord } from './roll-record.ts';

/** What all destinations that are there have on record of one roll. */
export interface KeptRoll {
  /** The one that says what the drive held last. */
  readonly newest: RollRecord;
  readonly byDestination: ReadonlyMap<string, RollRecord>;
}

/** Reads the records of one roll: null when none can be read, with the destinations whose record is damaged. */
export async function readKeptRoll(
  rollId: string,
  places: readonly RecordPlace[],
): Promise<{ readonly kept: KeptRoll | null; readonly damaged: readonly string[] }> {
  const byDestination = new Map<string, RollRecord>();
  const damaged: string[] = [];
  let newest: RollRecord | null = null;
  for (const { destination, root, shootId } of places) {
    const record = await readRollRecord(root, { shootId, rollId }).catch(() => 'damaged' as const);
    if (record === null) continue;
    if (record === 'damaged' || record.rollId !== rollId) {
      damaged.push(destination);
      continue;
    }
    byDestination.set(destination, record);
    if (newest === null || isNewer(record, newest)) newest = record;
  }
  return { kept: newest === null ? null : { newest, byDestination }, damaged };
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
  /** Their proven copies by path, for each destination. */
  readonly copies: ReadonlyMap<string, Readonly<Record<string, Copy>>>;
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
  const signatures = new Set(files.map(signature));
  return {
    parcels,
    copies: new Map([...byDestination].map(([name, record]) => [name, copiesOf(record, signatures)])),
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

/** The copies that a record tells of, of the files with these signatures. */
function copiesOf({ files }: RollRecord, signatures: ReadonlySet<string>): Readonly<Record<string, Copy>> {
  const known = files.filter((file) => signatures.has(signature(file)));
  return Object.fromEntries(
    known.map(({ path, storedPath, digests, method }) => [path, { state: 'verified', storedPath, digests, method }]),
  );
}

/** One text for what a file is on the drive: equal when path, size and time are. */
export function signature({ path, sizeInBytes, modifiedMs }: FileEntry): string {
  // No path holds a zero byte.
  return `${path}\u0000${sizeInBytes}\u0000${modifiedMs}`;
}

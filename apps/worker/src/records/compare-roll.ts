import type { Difference } from '@quayside/job-queue';
import { isAtRest } from '@quayside/pipeline';
import type { FileEntry, Roll } from '@quayside/shoot';
import { type KeptRoll, signature } from './kept-rolls.ts';
import type { RollRecord } from './roll-record.ts';

export interface Compared {
  readonly roll: Roll;
  /** Its files by parcel as the view has them; null when the view has lost them. */
  readonly parcels: readonly (readonly FileEntry[])[] | null;
  /** Null when no destination has a record of it. */
  readonly kept: KeptRoll | null;
  /** Whether the records at a destination were read. */
  readonly isRead: (destination: string) => boolean;
  /** Whether there is a record of it at a destination that cannot be read as one. */
  readonly isDamaged: (destination: string) => boolean;
}

/** In what the view and the records beside the footage do not agree about a roll. What only one that is under way lacks is no difference. */
export function compareRoll(compared: Compared): readonly Difference[] {
  const { roll, kept, parcels } = compared;
  const differences = sealedIn(roll).flatMap((name) => compareSeal(compared, name));
  if (parcels === null) differences.push(differs(`The view has lost the list of files of roll ${roll.id}.`));
  if (kept !== null)
    differences.push(...compareFields(roll, kept.newest), ...unknownSeals(roll, kept), ...unknownFiles(compared, kept));
  return differences;
}

/** Whether everything that the view knows of a roll is on record too, so that taking the record over loses nothing. */
export function isAllOnRecord({ roll, parcels, kept }: Compared): boolean {
  if (kept === null) return false;
  const taking = Object.keys(roll.destinations).filter((name) => roll.destinations[name]?.standing === 'taking');
  const onRecord = new Set(kept.newest.files.map(signature));
  return (
    taking.every((name) => kept.byDestination.has(name)) &&
    (parcels ?? []).flat().every((file) => onRecord.has(signature(file)))
  );
}

function sealedIn({ destinations }: Roll): readonly string[] {
  return Object.keys(destinations).filter((name) => destinations[name]?.sealedGeneration !== null);
}

function compareSeal({ roll, kept, parcels, isRead, isDamaged }: Compared, name: string): Difference[] {
  if (!isRead(name)) return [];
  const record = kept?.byDestination.get(name);
  const generation = roll.destinations[name]?.sealedGeneration;
  if (record === undefined) {
    const what = isDamaged(name) ? 'its record there cannot be read' : 'no record of it lies there';
    return [
      {
        kind: 'not-on-record',
        sentence: `The view says that roll ${roll.id} is sealed at ${name} (generation ${generation} of its manifest), but ${what}.`,
      },
    ];
  }
  const told: Difference[] = [];
  if (record.manifest.generation !== generation)
    told.push(
      differs(
        `Roll ${roll.id} at ${name}: the view knows generation ${generation} of its manifest, the record is of generation ${record.manifest.generation}.`,
      ),
    );
  const onRecord = new Set(record.files.map(signature));
  const proven = (parcels ?? []).filter((_, index) => roll.parcels[index]?.copies[name]?.state === 'verified').flat();
  const missing = proven.filter((file) => !onRecord.has(signature(file)));
  if (missing.length > 0)
    told.push({
      kind: 'not-on-record',
      sentence: `Roll ${roll.id} at ${name}: ${filesText(missing)} proven there says the view, and not on its record.`,
    });
  return told;
}

/** What stands in the record once, and must be the same in the view. */
function compareFields(roll: Roll, record: RollRecord): readonly Difference[] {
  const fields: readonly (readonly [what: string, view: string | number, onRecord: string | number])[] = [
    ['shoot', roll.movingTo === null ? roll.shootId : record.shootId, record.shootId],
    ['recorder', roll.recorder, record.recorder],
    ['kind of recorder', roll.role, record.role],
    ['volume', roll.volume.key, record.volume.key],
    // A view that knows a later one has not sealed it yet.
    ['visit', Math.min(roll.visit, record.visit), record.visit],
  ];
  return fields
    .filter(([, view, onRecord]) => view !== onRecord)
    .map(([what, view, onRecord]) =>
      differs(`Roll ${roll.id}: the ${what} is ${view} in the view and ${onRecord} on record.`),
    );
}

/** A destination that failed or is being sealed is in a newer state than its record, unless the view fell behind while the drive was away. */
function unknownSeals(roll: Roll, { byDestination }: KeptRoll): readonly Difference[] {
  return [...byDestination].flatMap(([name, { manifest, sealedAt }]) => {
    const at = roll.destinations[name];
    const isBehind = isAtRest(roll) || (roll.mount === null && roll.changedAt < sealedAt);
    if (at !== undefined && (at.sealedGeneration !== null || at.failure !== null || !isBehind)) return [];
    const sentence = `Roll ${roll.id} is on record at ${name} (generation ${manifest.generation}), and the view knows of nothing sealed there.`;
    return [differs(sentence)];
  });
}

function unknownFiles({ roll, parcels }: Compared, { newest }: KeptRoll): readonly Difference[] {
  if (parcels === null || newest.visit < roll.visit) return [];
  const known = new Set(parcels.flat().map(signature));
  const unknown = newest.files.filter((file) => !known.has(signature(file)));
  return unknown.length === 0
    ? []
    : [{ kind: 'not-in-view', sentence: `Roll ${roll.id}: ${filesText(unknown)} on record, and not in the view.` }];
}

function filesText(files: readonly FileEntry[]): string {
  const [first] = files;
  return files.length === 1 ? `"${first?.path}" is` : `${files.length} files, "${first?.path}" among them, are`;
}

function differs(sentence: string): Difference {
  return { kind: 'differs', sentence };
}

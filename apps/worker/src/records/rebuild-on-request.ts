import { applyRollEvent, type Difference, type RebuildReport, type RunQueue } from '@quayside/job-queue';
import { mayTakeOver } from '@quayside/pipeline';
import type { Roll } from '@quayside/shoot';
import { compareRoll, type Compared, isAllOnRecord } from './compare-roll.ts';
import { filesInView } from './files-in-view.ts';
import { forEachOf } from './for-each-of.ts';
import { type KeptRoll, readKeptRoll, recordedRollOf, type RecordedFiles } from './kept-rolls.ts';
import { findRecords, type RecordPlaces } from './record-places.ts';
import { type RebuildParts, ROLLS_AT_ONCE, takeUpAcknowledgements } from './rebuild-view.ts';
import { takeOverRoll, takeUpFacts, takeUpRoll } from './take-up-roll.ts';

export interface RequestParts extends RebuildParts {
  readonly queue: RunQueue;
}

type Told = RebuildReport['rolls'][number];

/**
 * Holds the view of a running service against the records beside the footage, of all shoots or of one, takes over what the
 * view lacks or is behind in, and tells every difference. It never gives a verdict, and leaves rolls that are under way, or
 * of which the view knows more than is on record, as they are; those whose drive is there are judged again.
 */
export async function rebuildOnRequest(
  parts: RequestParts,
  shootId: string | null,
  now: string,
): Promise<RebuildReport> {
  const places = await findRecords(parts.book, shootId);
  const inView = shootId === null ? await parts.store.rolls() : await parts.store.rollsOfShoot(shootId);
  const known = new Map(inView.map((roll) => [roll.id, roll]));
  const rollIds = new Set([...known.keys(), ...places.byRoll.keys()]);
  const rolls: Told[] = [];
  let onRecord = 0;
  await forEachOf(rollIds, ROLLS_AT_ONCE, async (rollId) => {
    const { kept, damaged } = await readKeptRoll(rollId, places.byRoll.get(rollId) ?? []);
    if (kept !== null) onRecord += 1;
    const before = known.get(rollId);
    if (
      before !== undefined &&
      (await compare(parts, { roll: before, kept, damaged, places })).differences.length === 0
    )
      return;
    // Of this moment: it may have changed or been taken in meanwhile, or be filed under another shoot in the view.
    const roll = await parts.store.roll(rollId);
    if (roll !== null) rolls.push(...(await compareKnown(parts, { roll, kept, damaged, places }, now)));
    else if (kept !== null) rolls.push(await takeUpUnknown(parts, { places, kept }, now));
  });
  await takeUpAcknowledgements(parts.store, places);
  const counted = {
    onRecord,
    inView: inView.length,
    unsealed: inView.filter((roll) => isUnsealed(roll)).length,
    unread: [...places.unread],
    rolls: rolls.toSorted((one, other) => (one.rollId < other.rollId ? -1 : 1)),
  };
  return { sentence: sumUp(counted), ...counted };
}

function isUnsealed({ destinations }: Roll): boolean {
  return Object.values(destinations).every(({ sealedGeneration }) => sealedGeneration === null);
}

async function takeUpUnknown(
  parts: RequestParts,
  { places, kept }: { readonly places: RecordPlaces; readonly kept: KeptRoll },
  now: string,
): Promise<Told> {
  const { rollId, shootId, recorder, files } = kept.newest;
  // Before the roll, with which its shoot is grouped anew.
  const facts = await takeUpFacts({ store: parts.store, places }, { id: rollId, shootId });
  await takeUpRoll(parts.store, recordedOf(parts, kept), now);
  const sentence = `Roll ${rollId} of ${recorder} is on record at ${[...kept.byDestination.keys()].join(' and ')}, and was not in the view.`;
  const outcome = `It was taken over with ${countOf(files.length)}${factsText(facts)}, and holds until its drive is connected and judged.`;
  return { rollId, shootId, differences: [{ kind: 'not-in-view', sentence }], tookOver: true, outcome };
}

function countOf(files: number): string {
  return files === 1 ? '1 file' : `${files} files`;
}

function factsText(facts: number): string {
  return facts === 0 ? '' : ` and what ${facts} of them are`;
}

interface Known {
  readonly roll: Roll;
  readonly kept: KeptRoll | null;
  readonly damaged: readonly string[];
  readonly places: RecordPlaces;
}

async function compare(
  parts: RequestParts,
  { roll, kept, damaged, places }: Known,
): Promise<{ readonly compared: Compared; readonly differences: readonly Difference[] }> {
  const compared: Compared = {
    roll,
    parcels: await filesInView(parts.store, roll),
    kept,
    isRead: (name) => places.roots.has(name),
    isDamaged: (name) => damaged.includes(name),
  };
  return { compared, differences: compareRoll(compared) };
}

async function compareKnown(parts: RequestParts, known: Known, now: string): Promise<readonly Told[]> {
  const { roll } = known;
  const { compared, differences } = await compare(parts, known);
  if (differences.length === 0) return [];
  const outcome = await settle(parts, { compared, differences }, now);
  return [{ rollId: roll.id, shootId: roll.shootId, differences: [...differences], ...outcome }];
}

async function settle(
  parts: RequestParts,
  { compared, differences }: { readonly compared: Compared; readonly differences: readonly Difference[] },
  now: string,
): Promise<Pick<Told, 'tookOver' | 'outcome'>> {
  const { roll, kept } = compared;
  if (kept !== null && isAllOnRecord(compared) && !differences.some(({ kind }) => kind === 'not-on-record')) {
    const recorded = recordedOf(parts, kept);
    if (mayTakeOver(roll, recorded.record) && (await takeOverRoll(parts.store, recorded, now))) {
      const outcome = 'What is on record was taken over; the roll holds until its drive is connected and judged.';
      return { tookOver: true, outcome };
    }
  }
  if (roll.mount === null)
    return {
      tookOver: false,
      outcome:
        'It was left as it is, since the view may know more than is on record. Connect its drive to have it judged, then retry the roll if it holds.',
    };
  await applyRollEvent(parts, roll.id, { event: { type: 'recheckRequested' }, now });
  return {
    tookOver: false,
    outcome:
      'It was left as it is, since its drive is connected: it is judged from the media. Retry the roll if it holds then.',
  };
}

function recordedOf({ book, configuration }: RequestParts, kept: KeptRoll): RecordedFiles {
  return recordedRollOf(kept, { names: book.names(), repairLimit: configuration.verify.repairs });
}

function sumUp({ onRecord, inView, unsealed, unread, rolls }: Omit<RebuildReport, 'sentence'>): string {
  const tookOver = rolls.filter((roll) => roll.tookOver).length;
  const sealing = unsealed === 0 ? '' : `, ${unsealed} of them with nothing sealed yet`;
  const known = `${onRecord === 1 ? '1 roll is' : `${onRecord} rolls are`} on record and ${wasOrWere(inView)} in the view${sealing}`;
  const differing = rolls.length === 1 ? '1 differs' : `${rolls.length} differ`;
  const found =
    rolls.length === 0 ? 'they agree' : `${differing}, of which ${wasOrWere(tookOver)} taken over from the records`;
  const away = unread.map(({ destination }) => destination).join(' and ');
  return `${known}: ${found}.${away === '' ? '' : ` ${away} could not be looked at.`}`;
}

function wasOrWere(count: number): string {
  return count === 1 ? '1 was' : `${count} were`;
}

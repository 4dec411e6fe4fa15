import { applyRollEvent, type Difference, type RebuildReport, type RunQueue } from '@quayside/job-queue';
import { mayTakeOver } from '@quayside/pipeline';
import type { FileEntry, Roll } from '@quayside/shoot';
import { compareRoll, type Compared, isAllOnRecord } from './compare-roll.ts';
import { type KeptRecords, type KeptRoll, readKeptRecords, recordedRollOf, type RecordedFiles } from './kept-rolls.ts';
import { type RebuildParts, takeUpAcknowledgements } from './rebuild-view.ts';
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
  const kept = await readKeptRecords(parts.book, shootId);
  const inView = shootId === null ? await parts.store.rolls() : await parts.store.rollsOfShoot(shootId);
  const known = new Set(inView.map(({ id }) => id));
  const rolls: Told[] = [];
  for (const roll of inView) rolls.push(...(await compareKnown(parts, { kept, roll }, now)));
  for (const [id, onRecord] of kept.rolls)
    if (!known.has(id)) rolls.push(...(await takeUpUnknown(parts, { kept, onRecord }, now)));
  for (const shoot of new Set([...kept.rolls.values()].map(({ newest }) => newest.shootId)))
    await takeUpAcknowledgements(parts.store, kept, shoot);
  const unsealed = inView.filter((roll) => isUnsealed(roll)).length;
  const counted = { onRecord: kept.rolls.size, inView: inView.length, unsealed, unread: [...kept.unread], rolls };
  return { sentence: sumUp(counted), ...counted };
}

function isUnsealed({ destinations }: Roll): boolean {
  return Object.values(destinations).every(({ sealedGeneration }) => sealedGeneration === null);
}

async function takeUpUnknown(
  parts: RequestParts,
  { kept, onRecord }: { readonly kept: KeptRecords; readonly onRecord: KeptRoll },
  now: string,
): Promise<readonly Told[]> {
  const { rollId, shootId } = onRecord.newest;
  // Filed under another shoot in the view, or taken in while the others were looked at.
  const known = await parts.store.roll(rollId);
  if (known !== null) return compareKnown(parts, { kept, roll: known }, now);
  await takeUpRoll(parts.store, recordedOf(parts, onRecord), now);
  const facts = await takeUpFacts({ store: parts.store, kept }, { id: rollId, shootId });
  const places = [...onRecord.byDestination.keys()].join(' and ');
  const sentence = `Roll ${rollId} of ${onRecord.newest.recorder} is on record at ${places}, and was not in the view.`;
  const outcome = `It was taken over with ${countOf(onRecord.newest.files.length)}${factsText(facts)}, and holds until its drive is connected and judged.`;
  return [{ rollId, shootId, differences: [{ kind: 'not-in-view', sentence }], tookOver: true, outcome }];
}

function countOf(files: number): string {
  return files === 1 ? '1 file' : `${files} files`;
}

function factsText(facts: number): string {
  return facts === 0 ? '' : ` and what ${facts} of them are`;
}

async function compareKnown(
  parts: RequestParts,
  { kept, roll }: { readonly kept: KeptRecords; readonly roll: Roll },
  now: string,
): Promise<readonly Told[]> {
  const compared: Compared = {
    roll,
    parcels: await filesInView(parts, roll),
    kept: kept.rolls.get(roll.id) ?? null,
    isRead: (name) => kept.roots.has(name),
    isDamaged: (name) => kept.damaged.some((one) => one.destination === name && one.rollId === roll.id),
  };
  const differences = compareRoll(compared);
  if (differences.length === 0) return [];
  const outcome = await settle(parts, { compared, differences }, now);
  return [{ rollId: roll.id, shootId: roll.shootId, differences: [...differences], ...outcome }];
}

async function filesInView({ store }: RequestParts, roll: Roll): Promise<readonly (readonly FileEntry[])[] | null> {
  try {
    return await Promise.all(roll.parcels.map(({ index }) => store.parcelFiles(roll.id, roll.visit, index)));
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'PARCEL_UNKNOWN') return null;
    throw error;
  }
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

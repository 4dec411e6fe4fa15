import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import type { Configuration } from '@quayside/configuration';
import type { Store } from '@quayside/job-queue';
import { fingerprintOf } from '@quayside/media-files';
import { planParcels } from '@quayside/pipeline';
import type { Roll, Shoot } from '@quayside/shoot';
import type { DestinationBook } from '../destinations/destination-book.ts';
import { readAcknowledgements, readFacts } from '../shoots/facts-record.ts';
import { readRollRecord, type RollRecord } from './roll-record.ts';

interface KeptRoll {
  readonly record: RollRecord;
  /** What is on record at each destination. */
  readonly destinations: ReadonlyMap<string, RollRecord>;
  readonly isEverywhere: boolean;
  readonly repairLimit: number;
}

export interface RebuildParts {
  readonly store: Store;
  readonly book: DestinationBook;
  readonly configuration: Configuration;
}

type Kept = ReadonlyMap<string, { readonly record: RollRecord; readonly destinations: Map<string, RollRecord> }>;

/**
 * Fills a view that was lost from the records beside the footage, and marks it whole. A roll that the view knows already is
 * left alone. Rebuilt rolls are held until their drive is connected and judged again: a verdict is never read from a record.
 */
export async function rebuildView({ store, book, configuration }: RebuildParts, now: string): Promise<number> {
  const kept = await readRecords(book);
  for (const { record, destinations } of kept.values()) {
    // One that was taken in meanwhile is of what the drive holds now, and its files are not those on record.
    if ((await store.roll(record.rollId)) !== null) continue;
    await store.saveParcels(
      record.rollId,
      record.visit,
      planParcels(record.files.map(({ path, sizeInBytes, modifiedMs }) => ({ path, sizeInBytes, modifiedMs }))),
    );
    await store.changeRoll(
      record.rollId,
      (roll) =>
        roll ??
        rollOf(
          {
            record,
            destinations,
            isEverywhere: destinations.size === book.names().length,
            repairLimit: configuration.verify.repairs,
          },
          now,
        ),
    );
    if ((await store.shoot(record.shootId)) === null) await store.saveShoot(shootOf(record));
  }
  await rebuildShoots(store, book, kept);
  await store.markWhole();
  return kept.size;
}

async function readRecords(book: DestinationBook): Promise<Kept> {
  const kept = new Map<string, { record: RollRecord; destinations: Map<string, RollRecord> }>();
  for (const { destination, failure } of await book.look()) {
    if (failure !== null) continue;
    for (const record of await recordsAt(destination.root)) {
      const known = kept.get(record.rollId) ?? { record, destinations: new Map<string, RollRecord>() };
      // The record of the latest visit says what the drive held last.
      if (record.visit > known.record.visit || record.files.length > known.record.files.length) known.record = record;
      known.destinations.set(destination.name, record);
      kept.set(record.rollId, known);
    }
  }
  return kept;
}

/** Facts of clips, last groups and what people have seen, from the first destination that has them. */
async function rebuildShoots(store: Store, book: DestinationBook, kept: Kept): Promise<void> {
  for (const { destination, failure } of await book.look()) {
    if (failure !== null) continue;
    for (const { record } of kept.values()) {
      const at = { root: destination.root, shootId: record.shootId };
      if ((await store.facts(record.rollId)).length === 0)
        await store.saveFacts(record.rollId, await readFacts(at, record.rollId));
    }
    for (const shootId of new Set([...kept.values()].map(({ record }) => record.shootId))) {
      const known = await store.acknowledgements(shootId);
      for (const seen of await readAcknowledgements({ root: destination.root, shootId }))
        if (known[seen.matter] === undefined) await store.acknowledge(shootId, seen);
    }
  }
}

/** Every readable roll record at a destination's root. */
export async function recordsAt(root: string): Promise<readonly RollRecord[]> {
  const records: RollRecord[] = [];
  for (const shootId of await namesIn(root)) {
    for (const name of await namesIn(join(root, shootId, 'records', 'rolls'))) {
      const record = await readRollRecord(root, { shootId, rollId: name.replace(/\.json$/, '') });
      if (record !== null && record !== 'damaged') records.push(record);
    }
  }
  return records;
}

async function namesIn(folder: string): Promise<readonly string[]> {
  try {
    return (await readdir(folder)).filter((name) => !name.startsWith('.'));
  } catch {
    return [];
  }
}

function rollOf({ record, destinations, isEverywhere, repairLimit }: KeptRoll, now: string): Roll {
  const parcels = planParcels(record.files);
  const names = [...destinations.keys()];
  return {
    id: record.rollId,
    shootId: record.shootId,
    movingTo: null,
    wasSealed: true,
    recorder: record.recorder,
    role: record.role,
    volume: record.volume,
    mount: null,
    visit: record.visit,
    // Equal to the drive's only when every file is on record everywhere; else the drive is taken in anew.
    fingerprint: isEverywhere ? fingerprintOf({ files: record.files }) : '',
    fileCount: record.files.length,
    sizeInBytes: record.files.reduce((sum, file) => sum + file.sizeInBytes, 0),
    litterCount: 0,
    parcels: parcels.map((files, index) => ({
      index,
      firstPath: files[0]?.path ?? '',
      fileCount: files.length,
      sizeInBytes: files.reduce((sum, file) => sum + file.sizeInBytes, 0),
      copies: Object.fromEntries(
        names.map((name) => [name, { state: 'verified', attempt: 0, failure: null, repairs: 0, partBytes: 0 }]),
      ),
    })),
    destinations: Object.fromEntries(
      [...destinations].map(([name, { manifest, readBackAt, sealedAt }]) => [
        name,
        {
          standing: 'taking',
          failure: null,
          sealedGeneration: manifest.generation,
          sealAttempt: 0,
          readBackAt: readBackAt ?? sealedAt,
          reread: null,
        },
      ]),
    ),
    // Their facts are looked for beside the footage; where those are missing, the drive is asked when it is back.
    facts: 'partly',
    order: [],
    repairLimit,
    findings: [],
    clearance: {
      verdict: 'hold',
      judgedAt: now,
      reasons: [
        {
          code: 'VOLUME_AWAY',
          sentence: 'What was known of this drive was read again from its copies. Connect it to have the verdict.',
        },
      ],
    },
    clearedAt: null,
    judgementDue: 0,
    judged: 0,
    told: null,
    absences: 0,
    openedAt: record.openedAt,
    changedAt: now,
  };
}

function shootOf(record: RollRecord): Shoot {
  return { id: record.shootId, name: record.shootId, openedAt: record.openedAt, closedAt: null, named: false };
}

import { hostname } from 'node:os';
import { join } from 'node:path';
import {
  actionsFor,
  readHistory,
  writeGeneration,
  type History,
  type NewFile,
  type NewGeneration,
} from '@quayside/hash-lists';
import { type LedgerDamage, type LedgerFile, readLedger, type LedgerView } from '@quayside/media-files';
import {
  HashAlgorithm,
  QuaysideError,
  rollFolder,
  VERSION,
  type FileEntry,
  type Instant,
  type Roll,
} from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { manifestAgrees } from '../records/manifest-agrees.ts';
import { firstReadBack } from './first-read-back.ts';
import { generationTime } from './generation-time.ts';
import { recordDamage } from './record-damage.ts';
import { writeRollRecord, type RollRecord } from '../records/roll-record.ts';

export interface Sealing {
  readonly roll: Roll;
  /** The files of this visit, as the volume listed them. */
  readonly files: readonly FileEntry[];
  readonly destination: Destination;
  readonly now: Instant;
}

/**
 * Seals a roll at one destination: one generation of its hash-list history for every file that the ledger there proves and
 * the history does not yet hold, then the roll's record. Both are synced; the same content is not written twice.
 */
export async function sealRoll(
  sealing: Sealing,
): Promise<{ readonly generation: number; readonly fileCount: number; readonly readBackAt: Instant }> {
  const { roll, files, destination } = sealing;
  const rollRoot = join(destination.root, rollFolder(roll));
  const ledger = await readLedger(destination.root, roll.id);
  const history = await recordDamage(rollRoot, ledger, await readHistory(rollRoot));
  const proven = files.flatMap((file) => provenFile(file, ledger, history));
  if (proven.length === 0) throw new QuaysideError(nothingProven(roll, destination));
  const added = proven.filter((file) => !manifestAgrees(file, history));
  const latest = history.generations.at(-1);
  const isWhole = history.faults.length === 0;
  const written =
    added.length === 0 && latest !== undefined && isWhole
      ? { generation: latest.number, c4: latest.c4 }
      : // With a fault in the history, say after a crash while it was written, everything proven is recorded anew.
        await writeGeneration(rollRoot, generationOf(sealing, isWhole ? added : proven, history));
  const readBackAt = firstReadBack(proven, ledger) ?? sealing.now;
  await writeRollRecord(destination.root, { ...recordOf(sealing, proven, written), readBackAt });
  return { generation: written.generation, fileCount: proven.length, readBackAt };
}

function generationOf(
  { roll, files, destination, now }: Sealing,
  listed: readonly ProvenFile[],
  history: History,
): NewGeneration {
  return {
    startedAt: now,
    process: 'transfer',
    creator: {
      hostname: hostname(),
      tool: 'Quayside',
      toolVersion: VERSION,
      comment: `Copied from volume ${roll.volume.label ?? roll.volume.key} (${roll.recorder}) to ${destination.name}; every file was read back.`,
    },
    ignore: [],
    files: listed.map((file) => newFile(file, history)),
    complete: history.generations.length === 0 && listed.length === files.length,
  };
}

function newFile(file: ProvenFile, history: History): NewFile {
  const actions = actionsFor(history, file.storedPath, file.digests);
  const hashes = HashAlgorithm.options.flatMap((algorithm) => {
    const value = file.digests[algorithm];
    return value === undefined ? [] : [{ algorithm, value, action: actions[algorithm] ?? 'original' }];
  });
  return { path: file.storedPath, sizeInBytes: file.sizeInBytes, modifiedMs: file.modifiedMs, hashes };
}

type ProvenFile = RollRecord['files'][number];

/**
 * A stored file that the history found damaged is not proven by an older read-back, whatever the ledger says; a newer one is of the
 * copy that took its place. Its times are those of the read-back: now they could be of what somebody wrote after that.
 */
function provenFile(file: FileEntry, ledger: LedgerView, history: History): readonly ProvenFile[] {
  const known = ledger.files.get(file.path);
  if (
    known?.state !== 'verified' ||
    known.method === undefined ||
    known.storedTimes === undefined ||
    known.sizeInBytes !== file.sizeInBytes ||
    known.modifiedMs !== file.modifiedMs ||
    isFoundDamagedSince(known, history)
  )
    return [];
  const { storedPath, storedTimes, digests, method } = known;
  return [{ ...file, storedPath, storedTimes, digests, method }];
}

function isFoundDamagedSince({ storedPath, verifiedAt, damage }: LedgerFile, history: History): boolean {
  const recorded = history.files.get(storedPath);
  if (recorded?.failed !== true) return false;
  // What the ledger itself knows of was proven after that, whatever the clocks say.
  if (damage?.storedPath === storedPath && isRecordedDamage(damage, history, recorded.lastGeneration)) return false;
  return verifiedAt === undefined || Date.parse(verifiedAt) <= generationTime(history, recorded.lastGeneration);
}

function isRecordedDamage({ storedPath, found }: LedgerDamage, { generations }: History, number: number): boolean {
  const manifest = generations.find((generation) => generation.number === number)?.manifest;
  const hashes = manifest?.files.find(({ path }) => path === storedPath)?.hashes ?? [];
  return hashes.some(({ action, algorithm, value }) => action === 'failed' && found.digests[algorithm] === value);
}

function recordOf(
  { roll, now }: Sealing,
  files: readonly ProvenFile[],
  manifest: { readonly generation: number; readonly c4: string },
): RollRecord {
  return {
    format: 1,
    rollId: roll.id,
    shootId: roll.shootId,
    recorder: roll.recorder,
    role: roll.role,
    volume: roll.volume,
    visit: roll.visit,
    fingerprint: roll.fingerprint,
    openedAt: roll.openedAt,
    sealedAt: now,
    manifest: { generation: manifest.generation, c4: manifest.c4 },
    files: [...files],
  };
}

function nothingProven(roll: Roll, destination: Destination): { code: string; sentence: string; retry: 'never' } {
  return {
    code: 'NOTHING_PROVEN',
    sentence: `No file of roll ${roll.id} is proven at ${destination.name}, so there is nothing to seal. Retry the roll.`,
    retry: 'never',
  };
}

import { hostname } from 'node:os';
import { join } from 'node:path';
import { actionsFor, type History, type NewFile, readHistory, writeGeneration } from '@quayside/hash-lists';
import { type LedgerFile, readLedger } from '@quayside/media-files';
import { HashAlgorithm, type Instant, QuaysideError, type Roll, rollFolder, VERSION } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { readRollRecord, type RollRecord, writeRollRecord } from '../records/roll-record.ts';
import { firstReadBack } from './first-read-back.ts';
import { recordDamage } from './record-damage.ts';

export interface Attesting {
  readonly roll: Roll;
  readonly destination: Destination;
  /** When the reading again began. */
  readonly since: Instant;
}

/**
 * Puts a whole reading again on record at one destination: a generation for what was found bad, if any, and one for all that
 * has been read back since, then the roll's record, which says how far back the oldest reading lies.
 */
export async function attestRoll({
  roll,
  destination,
  since,
}: Attesting): Promise<{ readonly generation: number; readonly readBackAt: Instant }> {
  const { root } = destination;
  const rollRoot = join(root, rollFolder(roll));
  const record = await throwUnlessRecorded(roll, destination);
  const ledger = await readLedger(root, roll.id);
  const history = await recordDamage(rollRoot, ledger, await readHistory(rollRoot));
  const files = record.files.flatMap(({ path }) => rereadFile(ledger.files.get(path), { history, since }));
  const manifest = files.length === 0 ? null : await writeAttested(rollRoot, { files, since });
  const latest = history.generations.at(-1);
  const { generation, c4 } = manifest ?? { generation: latest?.number ?? 1, c4: latest?.c4 ?? '' };
  const readBackAt = firstReadBack(record.files, ledger) ?? since;
  await writeRollRecord(root, { ...record, readBackAt, manifest: { generation, c4 } });
  return { generation, readBackAt };
}

async function throwUnlessRecorded(roll: Roll, { name, root }: Destination): Promise<RollRecord> {
  const record = await readRollRecord(root, { shootId: roll.shootId, rollId: roll.id });
  if (record !== null && record !== 'damaged') return record;
  throw new QuaysideError({
    code: 'RECORD_UNREADABLE',
    sentence: `The record of roll ${roll.id} at ${name} is missing or damaged, so what was read again cannot be put on record there. Retry the roll.`,
    retry: 'never',
  });
}

function writeAttested(
  rollRoot: string,
  { files, since }: { readonly files: readonly NewFile[]; readonly since: Instant },
): ReturnType<typeof writeGeneration> {
  return writeGeneration(rollRoot, {
    startedAt: since,
    process: 'in-place',
    creator: {
      hostname: hostname(),
      tool: 'Quayside',
      toolVersion: VERSION,
      comment: 'Every file was read again from the medium and compared with what was proven.',
    },
    ignore: [],
    files,
    complete: false,
    countsAlone: true,
  });
}

/** Only what is proven now, and on record: what was made anew and is not sealed yet is the seal's to record. */
function rereadFile(
  known: LedgerFile | undefined,
  { history, since }: { readonly history: History; readonly since: Instant },
): readonly NewFile[] {
  if (known?.state !== 'verified' || (known.verifiedAt ?? '') < since) return [];
  const { storedPath, sizeInBytes, modifiedMs, digests } = known;
  if (!history.files.has(storedPath)) return [];
  const actions = actionsFor(history, storedPath, digests);
  const hashes = HashAlgorithm.options.flatMap((algorithm) => {
    const [value, action] = [digests[algorithm], actions[algorithm]];
    return value === undefined || action === undefined ? [] : [{ algorithm, value, action }];
  });
  return [{ path: storedPath, sizeInBytes, modifiedMs, hashes }];
}

import { join } from 'node:path';
import { readHistory } from '@quayside/hash-lists';
import { readLedger, restoreLedger } from '@quayside/media-files';
import { type Roll, rollFolder } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { manifestAgrees } from '../records/manifest-agrees.ts';
import { readRollRecord } from '../records/roll-record.ts';

/**
 * Enters those of these files that the roll's ledger at a destination does not know, from its record there, as far as the
 * manifests agree with it. Nothing is read of the files themselves: whoever relies on them does.
 */
export async function recallLedger(roll: Roll, { root }: Destination, paths: readonly string[]): Promise<void> {
  const ledger = await readLedger(root, roll.id);
  const unknown = new Set(paths.filter((path) => !ledger.files.has(path)));
  if (unknown.size === 0) return;
  const record = await readRollRecord(root, { shootId: roll.shootId, rollId: roll.id });
  if (record === null || record === 'damaged') return;
  const history = await readHistory(join(root, rollFolder(roll)));
  if (history.faults.length > 0) return;
  const files = record.files.filter((file) => unknown.has(file.path) && manifestAgrees(file, history));
  await restoreLedger(root, roll.id, { files, at: record.readBackAt ?? record.sealedAt });
}

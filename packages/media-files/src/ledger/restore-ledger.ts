import type { Digests, Instant, ReadBackMethod } from '@quayside/shoot';
import { appendRecords } from './append-ledger.ts';
import type { LedgerRecord, StoredTimes } from './ledger-record.ts';
import { readLedger } from './read-ledger.ts';

/** What else is on record of a stored file that was proven. */
export interface ProvenFile {
  readonly path: string;
  readonly storedPath: string;
  readonly sizeInBytes: number;
  readonly modifiedMs: number;
  readonly digests: Digests;
  readonly method: ReadBackMethod;
  readonly storedTimes: StoredTimes;
}

/**
 * Enters files in a roll's ledger that it does not know, say because it was deleted, as proven at that moment. What it knows of
 * others is left as it is.
 */
export async function restoreLedger(
  root: string,
  rollId: string,
  { files, at }: { readonly files: readonly ProvenFile[]; readonly at: Instant },
): Promise<void> {
  const known = (await readLedger(root, rollId)).files;
  const records = files
    .filter(({ path }) => !known.has(path))
    .flatMap(({ path, storedPath, sizeInBytes, modifiedMs, digests, method, storedTimes }): LedgerRecord[] => [
      { kind: 'written', path, storedPath, sizeInBytes, modifiedMs, digests, at },
      { kind: 'verified', path, storedPath, digests, method, storedTimes, at },
    ]);
  await appendRecords(root, rollId, records);
}

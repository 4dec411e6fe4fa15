import { isDeepStrictEqual } from 'node:util';
import { appendLines } from '../durable/append-lines.ts';
import { ledgerPath } from './ledger-path.ts';
import type { LedgerRecord } from './ledger-record.ts';
import { readLedger } from './read-ledger.ts';

/**
 * Records outcomes in a roll's ledger at a destination; when it returns they are durable. All in one append and one sync.
 * @throws QuaysideError `DESTINATION_NOT_MOUNTED` where a ledger would have to be made and the root is no destination (any more)
 */
export async function appendRecords(root: string, rollId: string, records: readonly LedgerRecord[]): Promise<void> {
  if (records.length > 0) await appendLines(root, ledgerPath(root, rollId), records);
}

/** Makes sure that a roll's ledger is there and ends with this header; a header that stands already is not written again. */
export async function openRollLedger(
  root: string,
  rollId: string,
  header: Readonly<Record<string, unknown>>,
): Promise<void> {
  const { header: standing } = await readLedger(root, rollId);
  const wanted: unknown = JSON.parse(JSON.stringify(header));
  if (isDeepStrictEqual(standing, wanted)) return;
  await appendLines(root, ledgerPath(root, rollId), [{ ...header, kind: 'roll' }]);
}

import type { Failure, Instant } from '@quayside/shoot';
import { appendRecords } from './append-ledger.ts';
import type { FoundCopy, LedgerRecord } from './ledger-record.ts';
import { readLedger } from './read-ledger.ts';

export interface Damage {
  readonly storedPath: string;
  readonly failure: Pick<Failure, 'code' | 'sentence'>;
  /** What was found in its place; null when nothing could be read there. */
  readonly found: FoundCopy | null;
}

/**
 * Notes in a roll's ledger that stored files were found damaged after they were proven, so that nothing takes them for
 * proven any more. Files that the ledger does not know, say because it was deleted, need no note.
 */
export async function noteDamage(
  root: string,
  rollId: string,
  { damage, at }: { readonly damage: readonly Damage[]; readonly at: Instant },
): Promise<void> {
  const found = new Map(damage.map((one) => [one.storedPath, one]));
  const { files } = await readLedger(root, rollId);
  const records = [...files].flatMap(([path, { storedPath }]): LedgerRecord[] => {
    const one = found.get(storedPath);
    if (one === undefined) return [];
    const { code, sentence } = one.failure;
    return [{ kind: 'failed', path, storedPath, code, sentence, ...(one.found !== null && { found: one.found }), at }];
  });
  await appendRecords(root, rollId, records);
}

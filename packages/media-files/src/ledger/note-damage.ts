import type { Failure, Instant } from '@quayside/shoot';
import { appendRecords } from './append-ledger.ts';
import { readLedger } from './read-ledger.ts';

export interface Damage {
  readonly storedPath: string;
  readonly failure: Pick<Failure, 'code' | 'sentence'>;
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
  const found = new Map(damage.map(({ storedPath, failure }) => [storedPath, failure]));
  const { files } = await readLedger(root, rollId);
  const records = [...files].flatMap(([path, { storedPath }]) => {
    const failure = found.get(storedPath);
    return failure === undefined
      ? []
      : [{ kind: 'failed' as const, path, storedPath, code: failure.code, sentence: failure.sentence, at }];
  });
  await appendRecords(root, rollId, records);
}

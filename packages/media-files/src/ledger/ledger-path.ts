import { join } from 'node:path';
import { FolderName, QuaysideError } from '@quayside/shoot';
import { LEDGER_FOLDER } from '../destination/destination-folders.ts';

export const LEDGER_SUFFIX = '.jsonl';

export function ledgerFolder(root: string): string {
  return join(root, LEDGER_FOLDER);
}

/** Where a roll's ledger lies. @throws QuaysideError `BAD_ROLL_ID` for an id that is no folder name. */
export function ledgerPath(root: string, rollId: string): string {
  if (FolderName.safeParse(rollId).success) return join(ledgerFolder(root), `${rollId}${LEDGER_SUFFIX}`);
  throw new QuaysideError({
    code: 'BAD_ROLL_ID',
    sentence: `${JSON.stringify(rollId)} is no roll id, so it has no ledger at ${root}. Roll ids are lower-case letters, digits and hyphens.`,
    retry: 'never',
  });
}

import type { LedgerView } from '@quayside/media-files';
import type { Instant } from '@quayside/shoot';

/** The moment since which all of these files have been read back, as far as the ledger proves them; null where it proves none. */
export function firstReadBack(files: readonly { readonly path: string }[], ledger: LedgerView): Instant | null {
  let first: Instant | null = null;
  for (const { path } of files) {
    const known = ledger.files.get(path);
    if (known?.state !== 'verified' || known.verifiedAt === undefined) continue;
    if (first === null || known.verifiedAt < first) first = known.verifiedAt;
  }
  return first;
}

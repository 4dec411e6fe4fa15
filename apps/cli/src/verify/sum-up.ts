import type { FaultCode, FileVerdict } from '@quayside/hash-lists';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import type { Verification } from './verify-folder.ts';

export type VerdictCounts = Readonly<Record<FileVerdict['verdict'] | 'unreadable' | 'fromCache', number>>;

/** How many files there are of each verdict. `fromCache` counts those read in a way that may have come from memory. */
export function countVerdicts({ verdicts, unreadable, hashed }: Verification): VerdictCounts {
  const count = (verdict: FileVerdict['verdict']): number => verdicts.filter((one) => one.verdict === verdict).length;
  return {
    verified: count('verified'),
    failed: count('failed'),
    missing: count('missing'),
    new: count('new'),
    unproven: count('unproven'),
    unreadable: unreadable.length,
    fromCache: hashed.filter(({ method }) => method === 'cached').length,
  };
}

/** What the verification comes to: `failed` when anything recorded is not as recorded, `partial` when anything is left unproven. */
export function outcomeOf(verification: Verification): ExitCode {
  const counts = countVerdicts(verification);
  const codes = verification.history.faults.map(({ code }) => code);
  if (
    counts.failed + counts.missing + counts.unreadable > 0 ||
    codes.some((code) => !HARMLESS.has(code) && code !== 'RECORD_REFUSED')
  ) {
    return EXIT.failed;
  }
  const isWhole = counts.new + counts.unproven + counts.fromCache + verification.specials.length === 0;
  return isWhole && !codes.includes('RECORD_REFUSED') ? EXIT.ok : EXIT.partial;
}

/** What an interrupted write leaves behind; the next write mends it, and every hash is there. */
const HARMLESS: ReadonlySet<FaultCode> = new Set(['MANIFEST_UNCHAINED', 'CHAIN_UNFINISHED']);

import type { Digests, HashAlgorithm } from '@quayside/shoot';
import type { History, RecordedFile } from './history.ts';
import { ignoreMatcher } from './ignore-patterns.ts';

/** What was found on the medium at a path. */
export type Found = { readonly sizeInBytes: number; readonly digests: Digests } | 'missing';

/** `unproven`: recorded, but no recorded algorithm was made now, so nothing could be compared. */
export type FileVerdict = { readonly path: string } & (
  | { readonly verdict: 'verified'; readonly by: readonly HashAlgorithm[] }
  | { readonly verdict: 'failed'; readonly mismatches: readonly Mismatch[] }
  | { readonly verdict: 'missing' }
  | { readonly verdict: 'new' }
  | { readonly verdict: 'unproven'; readonly recorded: readonly HashAlgorithm[] }
);

export interface Mismatch {
  readonly what: 'size' | HashAlgorithm;
  readonly expected: string;
  readonly found: string;
}

/**
 * Judges what was found against what a history records, for every path of either, in code-unit order of the paths. A
 * recorded file that `found` does not mention is missing; what the history ignores is passed over. Faults of the history
 * itself are not judged here: show them beside the verdicts.
 */
export function verifyAgainst(history: History, found: ReadonlyMap<string, Found>): FileVerdict[] {
  const isIgnored = ignoreMatcher(history.ignore);
  const paths = new Set([...history.files.keys(), ...[...found.keys()].filter((path) => !isIgnored(path))]);
  return [...paths]
    .toSorted((one, other) => (one < other ? -1 : 1))
    .flatMap((path) => judge(path, history.files.get(path), found.get(path) ?? 'missing'));
}

function judge(path: string, recorded: RecordedFile | undefined, found: Found): FileVerdict[] {
  if (recorded === undefined) return found === 'missing' ? [] : [{ path, verdict: 'new' }];
  if (found === 'missing') return [{ path, verdict: 'missing' }];
  const usable = [...recorded.hashes].filter(([, { action }]) => action !== 'failed');
  const compared = usable.flatMap(([what, { value: expected }]) => {
    const digest = found.digests[what];
    return digest === undefined ? [] : [{ what, expected, found: digest }];
  });
  const mismatches = [...sizeMismatch(recorded, found), ...compared.filter((pair) => pair.expected !== pair.found)];
  if (mismatches.length > 0) return [{ path, verdict: 'failed', mismatches }];
  if (compared.length === 0) return [{ path, verdict: 'unproven', recorded: usable.map(([algorithm]) => algorithm) }];
  return [{ path, verdict: 'verified', by: compared.map(({ what }) => what) }];
}

function sizeMismatch(recorded: RecordedFile, found: { readonly sizeInBytes: number }): Mismatch[] {
  if (recorded.sizeInBytes === null || recorded.sizeInBytes === found.sizeInBytes) return [];
  return [{ what: 'size', expected: String(recorded.sizeInBytes), found: String(found.sizeInBytes) }];
}

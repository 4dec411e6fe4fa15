import { type Digests, HashAlgorithm, QuaysideError } from '@quayside/shoot';
import type { History } from './history.ts';
import type { HashAction } from './manifest.ts';

export type HashActions = Partial<Record<HashAlgorithm, HashAction>>;

/**
 * The action that each new hash of a file gets (ASC MHL specification v1.0, section 6.5.1). `original` for a file that is
 * new to the history. Else all are `verified` when every hash that can be compared agrees, also those of a new algorithm;
 * or `failed` for a hash that differs and for one of a new algorithm beside it. `path` is where the history has the file.
 * @throws QuaysideError `MANIFEST_NO_SHARED_HASH` when the file is recorded, but by no algorithm that was made now.
 */
export function actionsFor(history: History, path: string, digests: Digests): HashActions {
  const recorded = history.files.get(path);
  const made = HashAlgorithm.options.filter((algorithm) => digests[algorithm] !== undefined);
  if (recorded === undefined) return Object.fromEntries(made.map((algorithm) => [algorithm, 'original']));

  const usable = [...recorded.hashes].filter(([, { action }]) => action !== 'failed');
  const expected = new Map(usable.map(([algorithm, { value }]) => [algorithm, value]));
  const comparable = made.filter((algorithm) => expected.has(algorithm));
  if (comparable.length === 0) throw noSharedHash(path, [...expected.keys()], made);
  const agrees = (algorithm: HashAlgorithm): boolean => expected.get(algorithm) === digests[algorithm];
  const allAgree = comparable.every(agrees);
  return Object.fromEntries(
    made.map((algorithm) => [algorithm, allAgree || agrees(algorithm) ? 'verified' : 'failed']),
  );
}

function noSharedHash(path: string, recorded: readonly string[], made: readonly string[]): QuaysideError {
  return new QuaysideError({
    code: 'MANIFEST_NO_SHARED_HASH',
    sentence: `"${path}" is recorded with ${recorded.join(', ') || 'failed hashes only'}, so its ${made.join(', ') || 'missing hash'} cannot be compared. Hash it with a recorded algorithm as well.`,
    retry: 'never',
  });
}

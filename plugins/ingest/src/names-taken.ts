import type { CopyOutcome } from '@quayside/step-sdk/built-in';

/** The files that had to be stored under another path than their own. */
export function namesTaken(
  outcomes: readonly CopyOutcome[],
): { destination: string; path: string; storedPath: string }[] {
  return outcomes.flatMap((outcome) =>
    outcome.state === 'written' && outcome.storedPath !== outcome.path
      ? [{ destination: outcome.destination, path: outcome.path, storedPath: outcome.storedPath }]
      : [],
  );
}

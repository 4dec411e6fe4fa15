import type { Roll, RunRequest, ShootProgress } from '@quayside/shoot';
import { factsState, recordsState } from './shoot-states.ts';

/** Nothing worked out yet. */
export const NO_PROGRESS: ShootProgress = { grouped: null, recorded: null, acknowledgements: 0 };

/**
 * The runs that a shoot's state asks for: its sync groups when the facts of a roll came or changed, and the records beside
 * the footage when groups, seals or acknowledgements did. A function of the state alone, as `wantedRuns` is. The ids do not
 * carry the state: one run at a time works out what is newest, and is asked for again while that has moved on.
 */
export function wantedShootRuns(
  shootId: string,
  rolls: readonly Roll[],
  progress: ShootProgress,
): readonly RunRequest[] {
  const known = rolls.filter(({ facts }) => facts !== 'due');
  if (known.length === 0) return [];
  const isAwaited = rolls.some(({ facts }) => facts === 'placing');
  if (isAwaited || factsState(rolls) !== progress.grouped) return [run('sync-grouping', shootId)];
  const isSealedAnywhere = rolls.some((roll) =>
    Object.values(roll.destinations).some(({ sealedGeneration }) => sealedGeneration !== null),
  );
  return isSealedAnywhere && recordsState(rolls, progress) !== progress.recorded ? [run('records', shootId)] : [];
}

function run(step: string, shootId: string): RunRequest {
  return { id: `${step}-${shootId}`, step, subject: shootId, inputs: { shootId } };
}

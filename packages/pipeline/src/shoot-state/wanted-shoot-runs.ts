import type { Roll, RunRequest, ShootProgress } from '@quayside/shoot';
import { factsState, planState, recordsState } from './shoot-states.ts';

/** Nothing worked out yet. */
export const NO_PROGRESS: ShootProgress = {
  grouped: null,
  recorded: null,
  planned: null,
  planning: null,
  proxies: 0,
  guests: '',
  completed: null,
  acknowledgements: 0,
};

/**
 * The runs that a shoot's state asks for: its sync groups when the facts of a roll came or changed, the plan of proxies
 * when groups or policy did, and the records beside the footage when groups, plan, seals or acknowledgements did. Neither of the last two waits
 * for the other, so that one that fails fails alone. A function of the state alone, as `wantedRuns` is. The ids do not
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
  const isPlanDue = progress.planning !== null && planState(progress) !== progress.planned;
  const areRecordsDue = isSealedAnywhere && recordsState(rolls, progress) !== progress.recorded;
  return [...(isPlanDue ? [run('proxy-planning', shootId)] : []), ...(areRecordsDue ? [run('records', shootId)] : [])];
}

function run(step: string, shootId: string): RunRequest {
  return { id: `${step}-${shootId}`, step, subject: shootId, inputs: { shootId } };
}

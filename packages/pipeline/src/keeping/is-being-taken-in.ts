import type { Roll } from '@quayside/shoot';
import { isAtRest } from '../roll-state/activity.ts';
import { wantedRuns } from '../roll-state/wanted-runs.ts';

/** Whether footage of a roll is being copied or proven, or is about to be: nothing of low priority goes on meanwhile. */
export function isBeingTakenIn(roll: Roll): boolean {
  if (roll.mount !== null && !isAtRest(roll)) return true;
  return wantedRuns(roll).some(({ step }) => INTAKE.has(step));
}

const INTAKE: ReadonlySet<string> = new Set(['probe', 'ingest', 'recopy', 'checksum', 'seal']);

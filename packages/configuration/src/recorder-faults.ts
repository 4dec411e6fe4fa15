import type { Configuration } from './configuration-schema.ts';
import type { Fault, KeyPath } from './fault.ts';
import { labelClaimedByBoth } from './label-pattern.ts';

type Recorders = Configuration['recorders'];

interface Claim {
  readonly recorder: string;
  readonly path: KeyPath;
  readonly label: string | undefined;
  readonly uuid: string | undefined;
}

/** Two recorders that claim one drive: its footage would be filed under the wrong one. And names that are taken. */
export function recorderFaults(recorders: Recorders): Fault[] {
  const claims = Object.entries(recorders).flatMap(([recorder, { match }]) =>
    match.map(({ label, uuid }, index): Claim => ({
      recorder,
      path: ['recorders', recorder, 'match', index],
      label,
      uuid,
    })),
  );
  const doubles = claims.flatMap((claim, index) =>
    claims.slice(0, index).flatMap((earlier) => claimedTwice(earlier, claim)),
  );
  return [...takenNames(recorders), ...doubles];
}

function claimedTwice(earlier: Claim, claim: Claim): Fault[] {
  if (earlier.recorder === claim.recorder) return [];
  if (earlier.uuid !== undefined && claim.uuid !== undefined) {
    if (earlier.uuid.toLowerCase() !== claim.uuid.toLowerCase()) return [];
    return [fault([...claim.path, 'uuid'], claim.uuid, `is claimed by recorder "${earlier.recorder}" too`)];
  }
  if (earlier.label === undefined || claim.label === undefined) return [];
  const both = labelClaimedByBoth(earlier.label, claim.label);
  if (both === null) return [];
  const same = both === earlier.label && both === claim.label;
  const what = `is claimed by recorder "${earlier.recorder}" too${same ? '' : `: "${earlier.label}" also fits the label "${both}"`}`;
  return [fault([...claim.path, 'label'], claim.label, what)];
}

function fault(path: KeyPath, got: string, what: string): Fault {
  return { path, at: 'value', what, got, remedy: 'let each drive belong to one recorder' };
}

/** `records` is the folder of each shoot for its own documents. */
function takenNames(recorders: Recorders): Fault[] {
  if (recorders['records'] === undefined) return [];
  const what = 'is the folder in which each shoot keeps its own documents';
  return [{ path: ['recorders', 'records'], at: 'key', what, remedy: 'choose another name for the recorder' }];
}

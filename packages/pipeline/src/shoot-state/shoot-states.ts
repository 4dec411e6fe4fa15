import type { Roll, ShootProgress } from '@quayside/shoot';
import { takingDestinations } from '../roll-state/activity.ts';

/** The state of a shoot's facts, as one text that is equal when and only when the sync groups would be. */
export function factsState(rolls: readonly Roll[]): string {
  return (
    inOrder(rolls)
      // A roll that waits for its order has all its facts, as one that has got it.
      .map((roll) => [roll.id, roll.visit, roll.facts === 'placing' ? 'read' : roll.facts].join(':'))
      .join(' ')
  );
}

/** The state that the plan of proxies follows from: the groups, and the policy. */
export function planState({ planning, grouped }: Pick<ShootProgress, 'planning' | 'grouped'>): string {
  return `${planning ?? ''} ${grouped ?? ''}`;
}

/** The state that the records beside the footage follow from: the groups, the plan of proxies, those that were made, what plugins gave, what is sealed where, and what was acknowledged. */
export function recordsState(rolls: readonly Roll[], progress: ShootProgress): string {
  const seals = inOrder(rolls).flatMap((roll) =>
    takingDestinations(roll).map((name) => `${roll.id}@${name}:${roll.destinations[name]?.sealedGeneration ?? 0}`),
  );
  // Nothing stands for a plan that was never made, so that records of before there were plans are not written once more.
  const plan = progress.planned === null ? [] : [progress.planned];
  const proxies = progress.proxies === 0 ? [] : [`proxies:${progress.proxies}`];
  const guests = progress.guests === '' ? [] : [`guests:${progress.guests}`];
  return [progress.grouped ?? '', progress.acknowledgements, ...plan, ...proxies, ...guests, ...seals].join(' ');
}

function inOrder(rolls: readonly Roll[]): readonly Roll[] {
  return rolls.toSorted((one, other) => (one.id < other.id ? -1 : 1));
}

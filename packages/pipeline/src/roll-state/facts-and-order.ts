import type { Roll } from '@quayside/shoot';

/**
 * due --factsRead--> placing --ordered--> read. When the time for reading is over before all is read: due --> partly, and
 * copying begins in the order of the names. Neither decides whether footage is safe.
 */
export function noteFacts(roll: Roll, isComplete: boolean): Roll {
  if (roll.facts === 'read' || roll.facts === 'placing') return roll;
  if (!isComplete) return roll.facts === 'partly' ? roll : { ...roll, facts: 'partly' };
  return { ...roll, facts: roll.facts === 'due' ? 'placing' : 'read' };
}

/** What is copied first from now on. A roll that waited for it goes on. */
export function noteOrder(roll: Roll, order: readonly number[]): Roll {
  const facts = roll.facts === 'placing' ? 'read' : roll.facts;
  if (facts === roll.facts && order.join() === roll.order.join()) return roll;
  return { ...roll, facts, order: [...order] };
}

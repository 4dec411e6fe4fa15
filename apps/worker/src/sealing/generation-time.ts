import type { History } from '@quayside/hash-lists';

/** When the operation of a generation began, in milliseconds since 1970; never (infinity) for one that does not say so. */
export function generationTime(history: History, number: number): number {
  const generation = history.generations.find((one) => one.number === number);
  const startedAt = generation?.manifest?.startedAt ?? null;
  return startedAt === null ? Number.POSITIVE_INFINITY : Date.parse(startedAt);
}

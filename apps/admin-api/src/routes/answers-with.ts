import type { z } from 'zod';
import { Problem } from '../answers/problem.ts';

const PROBLEM = {
  description: 'A problem document (RFC 9457).',
  content: { 'application/problem+json': { schema: Problem } },
} as const;

/** The response schemas of a route: its own answer, and problem documents for all that goes wrong. */
export function answersWith<const Status extends number, Answer extends z.ZodType>(
  status: Status,
  answer: Answer,
): Record<Status, Answer> & { readonly '4xx': typeof PROBLEM; readonly '5xx': typeof PROBLEM } {
  // A computed key of a literal type widens to a string index, so the compiler has to be told.
  const own = { [status]: answer } as Record<Status, Answer>;
  return { ...own, '4xx': PROBLEM, '5xx': PROBLEM };
}

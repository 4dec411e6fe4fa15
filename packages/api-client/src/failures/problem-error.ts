import { QuaysideError } from '@quayside/shoot';
import type { ProblemKind } from '../calls/typed-calls.ts';
import type { paths } from '../generated/api-paths.ts';

/** A problem document (RFC 9457), as the API answers with it. */
export type Problem = paths['/v1/rolls']['get']['responses']['4XX']['content']['application/problem+json'];

/** The service understood, and says why not. The message is its own sentence for the operator. */
export class ProblemError extends QuaysideError {
  readonly problem: Problem;

  constructor(problem: Problem) {
    const mayPass = problem.status >= 500 || problem.status === 429;
    super({
      code: kindOf(problem)
        .toUpperCase()
        .replaceAll(/[^A-Z0-9]/g, '_'),
      sentence: problem.detail,
      retry: mayPass ? 'later' : 'never',
    });
    this.problem = problem;
  }

  /** Whether it is one of these kinds. */
  is(...kinds: readonly ProblemKind[]): boolean {
    return kinds.some((kind) => kind === kindOf(this.problem));
  }
}

/** The problem in the JSON of an answer, or null when it is something else. */
export function problemIn(body: unknown): Problem | null {
  if (typeof body !== 'object' || body === null) return null;
  const { type, title, status, detail } = body as Record<string, unknown>;
  const isProblem = [type, title, detail].every((text) => typeof text === 'string') && typeof status === 'number';
  return isProblem ? (body as Problem) : null;
}

function kindOf({ type }: Problem): string {
  return type.replace('/problems/', '');
}

import { z } from 'zod';

/**
 * What the caller should do about a failure.
 * `never`: hopeless as it stands, a person must act. `later`: may pass by itself. `source`: the volume is away, wait for
 * it. `destination`: the destination is away or full, wait for it. `copy`: a copy is bad or gone; a fresh one is made, as often
 * as the operator allows.
 */
export const Remedy = z.enum(['never', 'later', 'source', 'destination', 'copy']);
export type Remedy = z.output<typeof Remedy>;

/** A failure as data: it crosses processes and the queue. `sentence` says what, where, why and what to do. */
export const Failure = z.object({
  /** What a guest's step says of itself begins with its plugin's name. */
  code: z.string().regex(/^(?:[a-z0-9][a-z0-9-]*\/)?[A-Z][A-Z0-9_]*$/),
  sentence: z.string(),
  retry: Remedy,
});
export type Failure = z.output<typeof Failure>;

/** An error that an operator can be shown as it is. Everything we throw on purpose is one of these. */
export class QuaysideError extends Error {
  override readonly name = 'QuaysideError';
  readonly code: string;
  readonly retry: Remedy;

  constructor(failure: Failure, options?: { cause?: unknown }) {
    super(failure.sentence, options);
    this.code = failure.code;
    this.retry = failure.retry;
  }
}

/** The failure in an unknown error: ours as it is, anything else as `UNEXPECTED`, worth another try. */
export function failureOf(error: unknown): Failure {
  if (error instanceof QuaysideError) return { code: error.code, sentence: error.message, retry: error.retry };
  const parsed = Failure.safeParse(error);
  if (parsed.success) return parsed.data;
  const text = error instanceof Error ? error.message : String(error);
  return {
    code: 'UNEXPECTED',
    sentence: `Something unforeseen went wrong: ${text}. See the service's log.`,
    retry: 'later',
  };
}

import { QuaysideError } from '@quayside/shoot';
import { PROBLEM_KINDS, type ProblemCode } from './problem-kinds.ts';

/** One value that cannot be used. `pointer` is a JSON Pointer as a URI fragment (RFC 9457, section 3; RFC 6901). */
export interface ValueFault {
  readonly detail: string;
  readonly pointer: string;
}

/** An error that is answered as the problem document of its kind. `detail` is one sentence for the operator. */
export class ApiProblem extends QuaysideError {
  readonly kind: ProblemCode;
  readonly errors: readonly ValueFault[];
  readonly status: number;

  constructor(
    kind: ProblemCode,
    detail: string,
    options: { readonly errors?: readonly ValueFault[]; readonly status?: number; readonly cause?: unknown } = {},
  ) {
    const retry = kind === 'store-away' || kind === 'worker-away' || kind === 'unexpected' ? 'later' : 'never';
    super({ code: kind.toUpperCase().replaceAll('-', '_'), sentence: detail, retry }, { cause: options.cause });
    this.kind = kind;
    this.errors = options.errors ?? [];
    this.status = options.status ?? PROBLEM_KINDS[kind].status;
  }
}

import { QuaysideError } from '@quayside/shoot';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import type { Problem } from '../answers/problem.ts';
import { ApiProblem } from './api-problem.ts';
import { PROBLEM_KINDS, type ProblemCode } from './problem-kinds.ts';

/** The problem document of any error. What was not foreseen is answered without a word of its inside. */
export function problemOf(error: unknown, requestId: string): Problem {
  const { kind, status, message, errors } = asApiProblem(error);
  return {
    type: `/problems/${kind}`,
    title: PROBLEM_KINDS[kind].title,
    status,
    detail: message,
    ...(status >= 500 ? { instance: `urn:quayside:request:${requestId}` } : {}),
    ...(errors.length > 0 ? { errors: [...errors] } : {}),
  };
}

function asApiProblem(error: unknown): ApiProblem {
  if (error instanceof ApiProblem) return error;
  if (hasZodFastifySchemaValidationErrors(error)) return invalid(error);
  if (isStoreAway(error)) return storeAway();
  return (
    framework(error) ?? new ApiProblem('unexpected', 'Something unforeseen went wrong. See the log of the service.')
  );
}

/** Redis did not answer, or not in time. */
export function storeAway(): ApiProblem {
  return new ApiProblem(
    'store-away',
    'Redis does not answer, so the state of the rolls cannot be read. Record over no drive until it is back; see the log of the service.',
  );
}

interface Invalid {
  readonly validationContext?: string | undefined;
  readonly validation: readonly { readonly instancePath: string; readonly message?: string | undefined }[];
}

/** A path whose parameter can be no id names nothing (404); a bad query is 400; a body that was read but cannot be used is 422. */
function invalid({ validation, validationContext }: Invalid): ApiProblem {
  if (validationContext === 'params')
    return new ApiProblem('nothing-here', 'No such thing can exist: the id in the address is not one.');
  const errors = validation.map(({ instancePath, message }) => ({
    detail: message ?? 'cannot be used',
    pointer: instancePath === '/' ? '#' : `#${instancePath}`,
  }));
  const [first] = errors;
  const where = first === undefined || first.pointer === '#' ? '' : ` at ${first.pointer}`;
  const kind = validationContext === 'body' ? 'invalid-body' : 'bad-request';
  const part = validationContext === 'body' ? 'body' : 'query';
  return new ApiProblem(kind, `The ${part} cannot be used${where}: ${first?.detail ?? 'it does not fit its schema'}.`, {
    errors,
  });
}

function isStoreAway(error: unknown): boolean {
  return error instanceof QuaysideError && error.code.startsWith('REDIS_');
}

function framework(error: unknown): ApiProblem | null {
  const kind = FRAMEWORK_KINDS[codeOf(error)];
  if (kind !== undefined) return new ApiProblem(kind, FRAMEWORK_DETAILS[kind] ?? PROBLEM_KINDS[kind].explanation);
  const status = error instanceof Error && 'statusCode' in error ? error.statusCode : undefined;
  if (typeof status !== 'number' || status < 400 || status >= 500) return null;
  // Fastify's messages for the faults of a client are about the request, never about our inside.
  return new ApiProblem('not-servable', error instanceof Error ? error.message : 'The request cannot be served.', {
    status,
  });
}

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : '';
}

const FRAMEWORK_KINDS: Readonly<Record<string, ProblemCode>> = {
  FST_ERR_CTP_INVALID_JSON_BODY: 'bad-request',
  FST_ERR_CTP_EMPTY_JSON_BODY: 'bad-request',
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: 'bad-request',
  FST_ERR_CTP_BODY_TOO_LARGE: 'too-large',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'not-json',
  FST_ERR_BAD_URL: 'bad-request',
  FST_ERR_NOT_FOUND: 'nothing-here',
};

const FRAMEWORK_DETAILS: Partial<Record<ProblemCode, string>> = {
  'bad-request': 'The request is malformed: its address or the JSON of its body cannot be read.',
};

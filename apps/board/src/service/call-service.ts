import { Problem } from '@quayside/admin-api/page-answers';
import type { z } from 'zod';
import { ServiceTrouble } from './service-trouble.ts';

const ANSWERS_WITHIN_MS = 6_000;

/** A request to the service. `also` are statuses whose body is an answer, too. */
export interface Request {
  readonly method?: 'GET' | 'POST' | 'DELETE';
  readonly body?: unknown;
  readonly headers?: Readonly<Record<string, string>>;
  readonly also?: readonly number[];
}

/** Speaks with the service. Every answer is checked against its schema; nothing unchecked goes further into the page. */
export interface Service {
  ask<Schema extends z.ZodType>(path: string, schema: Schema, request?: Request): Promise<Answer<z.output<Schema>>>;
  /** An answer that is read as it comes. */
  open(path: string, headers: Readonly<Record<string, string>>, signal: AbortSignal): Promise<Response>;
}

export interface Answer<Body> {
  readonly body: Body;
  /** The service's own clock, in milliseconds. */
  readonly serviceMs: number;
}

/**
 * The service that served this page. `keyNow` gives the key of the sign-in, which goes with the cookie that no script can read.
 * @throws ServiceTrouble
 */
export function serviceOfPage(keyNow: () => string | null): Service {
  const send = async (path: string, init: RequestInit): Promise<Response> => {
    const key = keyNow();
    const headers = new Headers(init.headers);
    if (key !== null) headers.set('quayside-page-key', key);
    try {
      return await fetch(path, { ...init, headers, cache: 'no-store', credentials: 'same-origin', redirect: 'error' });
    } catch (error) {
      throw new ServiceTrouble('away', 'The service does not answer.', { cause: error });
    }
  };
  return {
    async ask(path, schema, { method = 'GET', body, headers = {}, also = [] } = {}) {
      const response = await send(path, {
        method,
        headers: { ...headers, ...(body === undefined ? {} : { 'content-type': 'application/json' }) },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
        signal: AbortSignal.timeout(ANSWERS_WITHIN_MS),
      });
      if (!response.ok && !also.includes(response.status)) throw await refusalOf(response);
      const parsed = schema.safeParse(await jsonOf(response));
      if (!parsed.success)
        throw new ServiceTrouble(
          'odd',
          'The service answers in a way that this page does not know. Load the page again.',
          {
            cause: parsed.error,
          },
        );
      return { body: parsed.data, serviceMs: Date.parse(response.headers.get('date') ?? '') };
    },
    async open(path, headers, signal) {
      const response = await send(path, { headers: { ...headers }, signal });
      if (!response.ok) throw await refusalOf(response);
      return response;
    },
  };
}

async function refusalOf(response: Response): Promise<ServiceTrouble> {
  const problem = Problem.safeParse(await jsonOf(response).catch(() => null));
  const sentence = problem.success ? problem.data.detail : `The service answered with status ${response.status}.`;
  return new ServiceTrouble(response.status === 401 ? 'signed-out' : 'refused', sentence);
}

async function jsonOf(response: Response): Promise<unknown> {
  try {
    return await response.json();
  } catch (error) {
    throw new ServiceTrouble('away', 'The service broke off its answer.', { cause: error });
  }
}

import { type ClientSettings, type LooseCall, sendRequest } from './calls/send-request.ts';
import type { AnsweringPath, AnswerOf, Given, GivenLast, Method, PagedPath, PathOf } from './calls/typed-calls.ts';
import { brokenOff, NoAnswerError, notQuayside } from './failures/no-answer-error.ts';
import { problemIn, ProblemError } from './failures/problem-error.ts';

/**
 * The API, typed from its own description. Every call rejects with a `ProblemError` when the service refuses, with a
 * `NoAnswerError` when there is none to go by, and with the reason of its own signal when that aborts.
 */
export interface ApiClient {
  readonly address: string;
  get<P extends AnsweringPath<'get'>>(path: P, ...given: GivenLast<'get', P>): Promise<AnswerOf<'get', P>>;
  /** A change carries an idempotency key, and is sent once more under it when the line broke before the answer was whole. */
  post<P extends AnsweringPath<'post'>>(path: P, ...given: GivenLast<'post', P>): Promise<AnswerOf<'post', P>>;
  /** Any operation, with the headers of its answer. */
  ask<M extends Method, P extends AnsweringPath<M>>(
    method: M,
    path: P,
    ...given: GivenLast<M, P>
  ): Promise<{ readonly answer: AnswerOf<M, P>; readonly headers: Headers }>;
  /** A list page by page, from its first page or from the cursor in the query. */
  pages<P extends PagedPath>(
    path: P,
    ...given: GivenLast<'get', P>
  ): AsyncGenerator<AnswerOf<'get', P>, void, undefined>;
  /** A file, a text or a stream as it comes. It has no time limit but that of its signal. */
  open<P extends PathOf<'get'>>(
    path: P,
    given: Given<'get', P> & { readonly headers?: Readonly<Record<string, string>> },
  ): Promise<Response>;
}

const ANSWERS_WITHIN_MS = 10_000;

/** A client of the service at an address. It asks nothing until it is called. */
export function createClient(settings: ClientSettings): ApiClient {
  const { address, operator, answersWithinMs = ANSWERS_WITHIN_MS } = settings;

  const askLoosely = async (method: Method, path: string, call: LooseCall = {}): Promise<Told> => {
    const headers = new Headers();
    const isChange = method !== 'get';
    if (isChange) {
      const key = call.idempotencyKey === undefined ? crypto.randomUUID() : call.idempotencyKey;
      if (key !== null) headers.set('idempotency-key', key);
      const name = operator?.() ?? '';
      // A header holds no more letters than these.
      if (name !== '') headers.set('quayside-operator', name.replaceAll(/[^\x20-\xff]/g, '?'));
    }
    const once = async (): Promise<Told> => {
      const limit = AbortSignal.timeout(answersWithinMs);
      const signal = call.signal === undefined ? limit : AbortSignal.any([limit, call.signal]);
      const response = await sendRequest(settings, { method, path, headers }, { ...call, signal });
      return { answer: await answerIn(response, address), headers: response.headers };
    };
    try {
      return await once();
    } catch (error) {
      call.signal?.throwIfAborted();
      if (!headers.has('idempotency-key') || !hasBroken(error)) throw error;
      return await once();
    }
  };

  const get = async (path: string, call?: LooseCall): Promise<unknown> => (await askLoosely('get', path, call)).answer;
  const client = {
    address,
    get,
    post: async (path: string, call?: LooseCall) => (await askLoosely('post', path, call)).answer,
    ask: askLoosely,
    async *pages(path: string, call: LooseCall = {}) {
      let cursor = call.query?.['cursor'];
      for (;;) {
        const page = (await get(path, { ...call, query: { ...call.query, cursor } })) as { next: string | null };
        yield page;
        if (page.next === null) return;
        cursor = page.next;
      }
    },
    async open(path: string, { headers, ...call }: LooseCall & { readonly headers?: Record<string, string> }) {
      const request = { method: 'get', path, headers: new Headers(headers) } as const;
      const response = await sendRequest(settings, request, call).catch((error: unknown) => {
        call.signal?.throwIfAborted();
        throw error;
      });
      if (response.ok) return response;
      await answerIn(response, address);
      throw notQuayside(address, response.status);
    },
  };
  // Its types are the API's description, which the code above carries out without knowing it.
  return client as unknown as ApiClient;
}

interface Told {
  readonly answer: unknown;
  readonly headers: Headers;
}

async function answerIn(response: Response, address: string): Promise<unknown> {
  const text = await response.text().catch((error: unknown) => {
    throw brokenOff(address, error);
  });
  const body = objectIn(text);
  const problem = response.ok ? null : problemIn(body);
  if (problem !== null) throw new ProblemError(problem);
  // Health tells its state with 503 as well, and that is an answer.
  if (body === null || (!response.ok && response.status !== 503)) throw notQuayside(address, response.status);
  return body;
}

/** The JSON object in a text, or null: every answer of the API is one. */
function objectIn(text: string): object | null {
  try {
    const body: unknown = JSON.parse(text);
    return typeof body === 'object' ? body : null;
  } catch {
    return null;
  }
}

/** Whether the request may have been carried out all the same. What was too slow is not asked again by itself. */
function hasBroken(error: unknown): boolean {
  if (!(error instanceof NoAnswerError) || !(error.cause instanceof Error)) return false;
  return error.cause.name !== 'TimeoutError' && ['NOT_RUNNING', 'ANSWER_BROKEN_OFF'].includes(error.code);
}

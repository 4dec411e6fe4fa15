import type { paths } from '../generated/api-paths.ts';

export type Method = 'get' | 'post' | 'put' | 'patch' | 'delete';

type Operation<M extends Method, P extends keyof paths> =
  paths[P] extends Readonly<Record<M, infer Op extends object>> ? Op : never;

/** The paths that have an operation of a method. */
export type PathOf<M extends Method> = {
  [P in keyof paths]: [Operation<M, P>] extends [never] ? never : P;
}[keyof paths];

type JsonIn<Response> = Response extends { readonly content: { readonly 'application/json': infer Json } }
  ? Json
  : never;

type JsonAnswer<Op> = Op extends { readonly responses: infer Responses }
  ? // Health tells its state under 503 as well; other failures are problem documents.
    JsonIn<Responses[keyof Responses & (200 | 201 | 202 | 503)]>
  : never;

/** What an operation answers when all went well. */
export type AnswerOf<M extends Method, P extends PathOf<M>> = JsonAnswer<Operation<M, P>>;

/** The paths whose operation of a method answers with JSON; the others give files, text or a stream. */
export type AnsweringPath<M extends Method> = {
  [P in PathOf<M>]: [AnswerOf<M, P>] extends [never] ? never : P;
}[PathOf<M>];

type PathGiven<Op> = Op extends { readonly parameters: { readonly path: infer Ids } }
  ? { readonly path: Ids }
  : unknown;

type QueryGiven<Op> = Op extends { readonly parameters: { readonly query: infer Query extends object } }
  ? { readonly query: Query }
  : Op extends { readonly parameters: { readonly query?: infer Query extends object } }
    ? { readonly query?: Query }
    : unknown;

type BodyGiven<Op> = Op extends {
  readonly requestBody: { readonly content: { readonly 'application/json': infer Body } };
}
  ? null extends Body
    ? { readonly body?: Body }
    : { readonly body: Body }
  : Op extends { readonly requestBody?: { readonly content: { readonly 'application/json': infer Body } } }
    ? { readonly body?: Body }
    : unknown;

interface AnyCall {
  readonly signal?: AbortSignal;
}

interface AnyChange extends AnyCall {
  /**
   * A change that may be asked for again later takes the same key each time; without one, each call makes its own. What is answered
   * under a key is kept for a day: `null`, for an answer that must not be, sends none, and sends once only.
   */
  readonly idempotencyKey?: string | null;
}

/** What an operation takes, to the letter: no name that it does not know. */
export type Given<M extends Method, P extends PathOf<M>> = PathGiven<Operation<M, P>> &
  QueryGiven<Operation<M, P>> &
  BodyGiven<Operation<M, P>> &
  (M extends 'get' ? AnyCall : AnyChange);

/** The options as the last argument, which may be left out when the operation needs none. */
export type GivenLast<M extends Method, P extends PathOf<M>> =
  Partial<Given<M, P>> extends Given<M, P> ? [given?: Given<M, P>] : [given: Given<M, P>];

/** The lists that are given in pages. */
export type PagedPath = {
  [P in AnsweringPath<'get'>]: Operation<'get', P> extends {
    readonly parameters: { readonly query?: { readonly cursor?: string } };
  }
    ? AnswerOf<'get', P> extends { readonly next: string | null }
      ? P
      : never
    : never;
}[AnsweringPath<'get'>];

/** The last part of a problem's `type`. A newer service may know more of them. */
export type ProblemKind = paths['/problems/{code}']['get']['parameters']['path']['code'];

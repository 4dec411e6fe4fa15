import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { Scope } from '../access/scope.ts';
import { listTokens, makeToken, revokeToken, TokenRecord } from '../access/token-file.ts';
import { describeToken, TokenAnswer } from '../answers/token-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { listOf } from '../lists/list-of.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';

const DAY_MS = 24 * 60 * 60 * 1000;
const TokenId = z.object({ id: TokenRecord.shape.id });

const TOKENS = listOf<TokenAnswer>({
  keys: {
    madeAt: ({ madeAt }) => madeAt,
    expiresAt: ({ expiresAt }) => expiresAt,
    name: ({ name }) => name,
    scope: ({ scope }) => Scope.options.indexOf(scope),
  },
  tie: ({ id }) => id,
  by: '-madeAt',
  limit: { usual: 200, most: 1000 },
});

/** Tokens: to make, to list, and to make void. The service's own is none of them. */
export function tokenRoutes({ configuration: { data }, now }: ApiParts): FastifyPluginAsyncZod {
  const find = async (id: string): Promise<TokenAnswer> => {
    const known = (await listTokens(data)).find((record) => record.id === id);
    if (known === undefined) throw unknownToken(id);
    return describeToken(known, now());
  };
  return async (app) => {
    app.get(
      '/v1/tokens',
      {
        config: { scope: 'admin', rows: 'tokens' },
        schema: {
          operationId: 'listTokens',
          tags: ['tokens'],
          summary: 'The tokens that were made, the void ones too; the tokens themselves are nowhere',
          querystring: z.object({ state: TokenAnswer.shape.state.optional(), ...TOKENS.query }),
          response: answersWith(200, z.object({ tokens: z.array(TokenAnswer), next: z.string().nullable() })),
        },
      },
      async ({ query }) => {
        const all = (await listTokens(data))
          .map((record) => describeToken(record, now()))
          .filter(({ state }) => query.state === undefined || state === query.state);
        const { page, next } = TOKENS.page(all, query);
        return { tokens: [...page], next };
      },
    );

    app.get(
      '/v1/tokens/:id',
      {
        config: { scope: 'admin' },
        schema: {
          operationId: 'getToken',
          tags: ['tokens'],
          summary: 'One token that was made',
          params: TokenId,
          response: answersWith(200, TokenAnswer),
        },
      },
      async ({ params: { id } }) => find(id),
    );

    app.post(
      '/v1/tokens',
      {
        config: { scope: 'admin', isShownOnce: true },
        schema: {
          operationId: 'makeToken',
          tags: ['tokens'],
          summary: 'Make a token for somebody; it is shown this once, and counts at once',
          body: z.strictObject({
            name: z.string().trim().min(1).max(100).describe('Whom or what it is for.'),
            scope: Scope,
            days: z.int().min(1).max(3650).describe('Until when it counts; for ever when left out.').optional(),
          }),
          response: answersWith(201, TokenAnswer.extend({ token: z.string() })),
        },
      },
      async ({ body: { name, scope, days } }, reply) => {
        const at = now();
        const expiresAt = days === undefined ? null : new Date(Date.parse(at) + days * DAY_MS).toISOString();
        const { token, record } = await makeToken(data, { name, scope, expiresAt }, at);
        return reply
          .code(201)
          .header('location', `/v1/tokens/${record.id}`)
          .header('cache-control', 'no-store')
          .send({ ...describeToken(record, at), token });
      },
    );

    app.delete(
      '/v1/tokens/:id',
      {
        config: { scope: 'admin' },
        schema: {
          operationId: 'revokeToken',
          tags: ['tokens'],
          summary: 'Make a token void from now on, and the sign-ins that were made with it',
          params: TokenId,
          response: answersWith(200, TokenAnswer),
        },
      },
      async ({ params: { id } }) => {
        const revoked = await revokeToken(data, id, now());
        if (revoked === null) throw unknownToken(id);
        return describeToken(revoked, now());
      },
    );
  };
}

function unknownToken(id: string): ApiProblem {
  return new ApiProblem('token-unknown', `No token of the id "${id}" was made here.`);
}

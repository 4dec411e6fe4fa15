import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { Instant } from '@quayside/shoot';
import { z } from 'zod';
import { openPageSession, sessionCookie } from '../access/page-session.ts';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';

/** Signs the page in and out. The token comes in its usual header, so it stands in no address, no body and no record. */
export function sessionRoutes({ now }: Pick<ApiParts, 'now'>): FastifyPluginAsyncZod {
  return async (app) => {
    app.post(
      '/v1/session',
      {
        config: { scope: 'read', isShownOnce: true },
        schema: {
          operationId: 'signIn',
          tags: ['session'],
          summary:
            'Sign a browser in: a cookie that no script can read, and a key that goes with it; neither opens alone',
          body: z.strictObject({}).nullish(),
          response: answersWith(201, z.object({ key: z.string(), until: Instant })),
        },
      },
      async ({ headers, grant }, reply) => {
        // Otherwise a sign-in could prolong itself for ever.
        if (headers.authorization === undefined || grant === null)
          throw new ApiProblem('token-needed', 'Signing in takes the token itself: "Authorization: Bearer TOKEN".');
        const session = openPageSession(grant.key, Date.parse(now()), grant.id);
        reply.header('set-cookie', sessionCookie(session)).header('cache-control', 'no-store');
        return reply.code(201).send({ key: session.key, until: new Date(session.untilMs).toISOString() });
      },
    );

    app.delete(
      '/v1/session',
      {
        config: { scope: 'read' },
        schema: {
          operationId: 'signOut',
          tags: ['session'],
          summary: 'Sign this browser out',
          response: answersWith(200, z.object({ signedIn: z.literal(false) })),
        },
      },
      async (_request, reply) => reply.header('set-cookie', sessionCookie(null)).send({ signedIn: false }),
    );
  };
}

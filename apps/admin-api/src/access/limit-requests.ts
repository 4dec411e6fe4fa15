import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance } from 'fastify';
import { ApiProblem } from '../problems/api-problem.ts';

const MINUTE_MS = 60_000;

/**
 * Lets each token make so many requests in a minute, counted in this process. What needs no token is not counted: the page's own
 * files, and the signs of life. An event stream is one request, however long it stays open.
 */
export async function limitRequests(app: FastifyInstance, perMinute: number): Promise<void> {
  await app.register(rateLimit, {
    max: perMinute,
    timeWindow: MINUTE_MS,
    enableDraftSpec: true,
    allowList: ({ grant }) => grant === null,
    keyGenerator: ({ grant }) => grant?.id ?? '',
    errorResponseBuilder: (_request, { ttl }) =>
      new ApiProblem(
        'too-many-requests',
        `This token has made its ${perMinute} requests of this minute. Ask again in ${Math.ceil(ttl / 1000)} s, or ask less often: the event stream tells what changes.`,
      ),
  });
}

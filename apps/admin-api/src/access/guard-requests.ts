import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { hasPageSession } from './page-session.ts';
import { isSameSecret } from './token.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    /** True for a route that needs no token. */
    isPublic?: boolean;
  }
}

/**
 * Lets only those in who know the token, or were signed in with it, and only under a name of this machine: a page of a foreign site that has its
 * name resolved to 127.0.0.1 still sends its own name as the host. Holds for unknown addresses too.
 */
export function guardRequests(app: FastifyInstance, { token, now }: Pick<ApiParts, 'token' | 'now'>): void {
  app.addHook('onRequest', async (request, reply) => {
    if (!isOwnHost(request.headers.host)) {
      throw new ApiProblem('foreign-host', 'The API does not answer under that host name. Use 127.0.0.1 or localhost.');
    }
    if (request.routeOptions.config.isPublic === true) return;
    const given = tokenOf(request);
    if (given !== null && isSameSecret(given, token)) return;
    if (given === null && hasPageSession(request, token, Date.parse(now()))) return;
    // RFC 6750, section 3: the error code only when a token was given.
    reply.header('www-authenticate', `Bearer realm="quayside"${given === null ? '' : ', error="invalid_token"'}`);
    throw new ApiProblem(
      'token-needed',
      given === null
        ? 'Send the token as "Authorization: Bearer TOKEN"; it is in the file "token" in the data folder.'
        : 'The token is not the one of this service; it is in the file "token" in the data folder.',
    );
  });
}

function isOwnHost(host: string | undefined): boolean {
  return host !== undefined && /^(?:127\.0\.0\.1|localhost|\[::1\])(?::\d{1,5})?$/i.test(host);
}

function tokenOf({ headers }: FastifyRequest): string | null {
  return /^Bearer +([\w.~+/=-]+) *$/i.exec(headers.authorization ?? '')?.[1] ?? null;
}

import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { hasPageSession, tokenOfSession } from './page-session.ts';
import { allows, scopeOfMethod, type Scope } from './scope.ts';
import type { Grant } from './token-book.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    /** True for a route that needs no token. */
    isPublic?: boolean;
    /** What a token must allow; by its method when not given. */
    scope?: Scope;
  }
  interface FastifyRequest {
    /** What whoever asks may do; null where no token is needed. */
    grant: Grant | null;
  }
}

/**
 * Lets only those in who know a token, or were signed in with one, and lets them do what it allows; and only under a name of this
 * machine: a page of a foreign site that has its name resolved to 127.0.0.1 still sends its own name as the host. Holds for
 * unknown addresses too.
 */
export function guardRequests(app: FastifyInstance, parts: Pick<ApiParts, 'tokens' | 'now'>): void {
  app.decorateRequest('grant', null);
  app.addHook('onRequest', async (request, reply) => {
    if (!isOwnHost(request.headers.host)) {
      throw new ApiProblem('foreign-host', 'The API does not answer under that host name. Use 127.0.0.1 or localhost.');
    }
    if (request.routeOptions.config.isPublic === true) return;
    const given = tokenOf(request);
    request.grant = given === null ? await grantOfSession(request, parts) : await parts.tokens.find(given);
    if (request.grant === null) {
      // RFC 6750, section 3: the error code only when a token was given.
      reply.header('www-authenticate', `Bearer realm="quayside"${given === null ? '' : ', error="invalid_token"'}`);
      throw new ApiProblem(
        'token-needed',
        given === null
          ? 'Send the token as "Authorization: Bearer TOKEN"; it is in the file "token" in the data folder.'
          : 'The token is not one of this service, or has expired or was revoked; its own is in the file "token" in the data folder.',
      );
    }
    const wanted = request.routeOptions.config.scope ?? scopeOfMethod(request.method);
    if (allows(request.grant.scope, wanted)) return;
    // RFC 6750, section 3.1.
    reply.header('www-authenticate', `Bearer realm="quayside", error="insufficient_scope", scope="${wanted}"`);
    throw new ApiProblem(
      'scope-needed',
      `That takes a token of scope "${wanted}", and this one is of scope "${request.grant.scope}".`,
    );
  });
}

/** What a page that is signed in may do: what the token does by which it was signed in, as long as that one counts. */
async function grantOfSession(
  request: FastifyRequest,
  { tokens, now }: Pick<ApiParts, 'tokens' | 'now'>,
): Promise<Grant | null> {
  const id = tokenOfSession(request);
  const grant = id === null ? null : await tokens.byId(id);
  return grant !== null && hasPageSession(request, grant.key, Date.parse(now())) ? grant : null;
}

function isOwnHost(host: string | undefined): boolean {
  return host !== undefined && /^(?:127\.0\.0\.1|localhost|\[::1\])(?::\d{1,5})?$/i.test(host);
}

function tokenOf({ headers }: FastifyRequest): string | null {
  return /^Bearer +([\w.~+/=-]+) *$/i.exec(headers.authorization ?? '')?.[1] ?? null;
}

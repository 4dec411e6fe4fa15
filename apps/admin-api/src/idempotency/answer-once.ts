import { createHash } from 'node:crypto';
import type { Store } from '@quayside/job-queue';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { ApiProblem } from '../problems/api-problem.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    /** True when the answer holds a secret, which is kept nowhere. */
    isShownOnce?: boolean;
  }
}

const HEADER = 'idempotency-key';
const KEY = /^[\x21-\x7e]{1,255}$/;

/**
 * Requests that change something and carry an `Idempotency-Key` are carried out once: the same request under the same key gets
 * the answer that the first one got, for a day. After the Internet draft "The Idempotency-Key HTTP Header Field". A request that
 * failed for no fault of its own (5xx) is not kept, so it may be sent again.
 */
export function answerOnce(
  app: FastifyInstance,
  store: Pick<Store, 'claimAnswer' | 'keepAnswer' | 'dropAnswer'>,
): void {
  const claims = new WeakMap<FastifyRequest, Claim>();

  app.addHook('preHandler', async (request, reply) => {
    const key = keyOf(request);
    if (key === null) return;
    if (request.routeOptions.config.isShownOnce === true)
      throw new ApiProblem(
        'bad-request',
        'What that request answers is shown once and kept nowhere, so it takes no Idempotency-Key. Leave it out.',
      );
    const claim = { key, request: digestOf(request) };
    const known = await store.claimAnswer(key, claim.request);
    if (known === null) return void claims.set(request, claim);
    if (known.request !== claim.request)
      throw new ApiProblem('key-reused', `The idempotency key "${key}" was used for another request. Make a new one.`);
    if (known.answer === null)
      throw new ApiProblem(
        'still-answering',
        `The request under key "${key}" is still being carried out. Ask again in a moment.`,
      );
    await replay(reply, known.answer);
  });

  app.addHook('onSend', async (request, reply, payload) => {
    const claim = claims.get(request);
    if (claim === undefined) return;
    claims.delete(request);
    if (reply.statusCode >= 500 || typeof payload !== 'string') return store.dropAnswer(claim.key);
    const type = String(reply.getHeader('content-type') ?? 'application/json');
    await store.keepAnswer(claim.key, {
      request: claim.request,
      answer: { status: reply.statusCode, body: payload, type },
    });
  });
}

interface Claim {
  readonly key: string;
  readonly request: string;
}

function keyOf({ method, headers }: FastifyRequest): string | null {
  const given = headers[HEADER];
  if (method === 'GET' || method === 'HEAD' || given === undefined) return null;
  const key = String(given);
  if (KEY.test(key)) return key;
  throw new ApiProblem('bad-request', 'The Idempotency-Key is not 1 to 255 visible characters. Use a random one.');
}

function digestOf({ method, url, body }: FastifyRequest): string {
  return createHash('sha256')
    .update(`${method} ${url}\n${JSON.stringify(body ?? null)}`)
    .digest('hex');
}

async function replay(
  reply: FastifyReply,
  { status, body, type }: { status: number; body: string; type: string },
): Promise<void> {
  await reply.code(status).header('idempotency-replayed', 'true').type(type).serializer(String).send(body);
}

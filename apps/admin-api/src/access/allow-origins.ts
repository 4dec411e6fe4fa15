import cors from '@fastify/cors';
import type { FastifyInstance } from 'fastify';

/**
 * Lets pages of these origins ask the API from a browser, with a token; without any, no page but our own can. Cookies are never
 * taken from them. Must be set up before anything that asks for a token: a browser asks for leave without one.
 */
export async function allowOrigins(app: FastifyInstance, origins: readonly string[]): Promise<void> {
  if (origins.length === 0) return;
  await app.register(cors, {
    origin: [...origins],
    methods: ['GET', 'HEAD', 'POST', 'DELETE'],
    allowedHeaders: [
      'authorization',
      'content-type',
      'idempotency-key',
      'if-match',
      'if-none-match',
      'last-event-id',
      'quayside-operator',
    ],
    exposedHeaders: [
      'etag',
      'location',
      'idempotency-replayed',
      'retry-after',
      'ratelimit-remaining',
      'ratelimit-reset',
    ],
    maxAge: 600,
  });
}

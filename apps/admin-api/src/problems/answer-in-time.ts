import type { FastifyInstance, FastifyRequest } from 'fastify';
import { storeAway } from './problem-of.ts';

/**
 * Answers 503 to a request that gets nothing out of Redis in time. An answer that is on its way is left alone, which the framework's
 * own limit does not do: while the record of changes is being written, it would mix two, the status of one with the body of the other.
 */
export function answerInTime(app: FastifyInstance, withinMs: number): void {
  const timers = new WeakMap<FastifyRequest, NodeJS.Timeout>();
  const stop = async (request: FastifyRequest): Promise<void> => clearTimeout(timers.get(request));
  app.addHook('onRequest', async (request, reply) => {
    const timer = setTimeout(() => {
      // A stream has taken the answer into its own hands.
      if (!reply.sent) void reply.send(storeAway());
    }, withinMs);
    timers.set(request, timer);
  });
  app.addHook('onSend', stop);
  app.addHook('onResponse', stop);
  app.addHook('onRequestAbort', stop);
}
